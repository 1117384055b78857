"""The finished sets in `dist/` are what the source makes of `specs/`, byte for byte."""

from __future__ import annotations

from pathlib import Path

import pytest

import elevgen
from elevgen import pipeline

ROOT = Path(__file__).parent.parent.parent
DIST = ROOT / "dist"
SPECS = sorted(p for p in (ROOT / "specs").glob("*.json") if not p.name.endswith(".schema.json"))


def content(folder: Path) -> dict[str, bytes]:
    return {str(p.relative_to(folder)): p.read_bytes() for p in sorted(folder.rglob("*")) if p.is_file() and p.name[0] != "."}


def test_there_is_a_demo() -> None:
    assert SPECS


@pytest.mark.parametrize("spec", SPECS, ids=lambda p: p.stem)
def test_the_finished_set_is_what_the_source_makes(spec: Path, tmp_path: Path) -> None:
    kept = DIST / spec.stem
    if not DIST.is_dir() or not any(DIST.iterdir()):
        pytest.skip("dist/ is empty: .ci/rebuild-dist draws it")
    assert kept.is_dir(), f"{kept} is missing: .ci/rebuild-dist draws it"
    elevgen.write(pipeline.design_file(spec), tmp_path)
    fresh, old = content(tmp_path), content(kept)
    assert sorted(fresh) == sorted(old)
    stale = [path for path in fresh if fresh[path] != old[path]]
    assert stale == [], "no longer what the source makes: .ci/rebuild-dist draws them anew"


def test_no_set_is_kept_without_its_spec() -> None:
    kept = {p.name for p in DIST.iterdir() if p.is_dir()} if DIST.is_dir() else set()
    assert kept <= {p.stem for p in SPECS}
