"""Every command and every snippet of the walk-throughs and of the README's Python example runs, in order, as written."""

from __future__ import annotations

import json
import re
import shlex
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
FENCE = re.compile(r"^```(sh|python)(?: exit=(\d+))?\n(.*?)^```$", re.MULTILINE | re.DOTALL)
PAGES = sorted(page for page in (ROOT / "examples").glob("*.md") if page.stem != "published-values")


def blocks(page: Path) -> list[tuple[str, int, str]]:
    return [(kind, int(code or 0), body) for kind, code, body in FENCE.findall(page.read_text(encoding="utf-8"))]


def command(kind: str, body: str) -> list[list[str]]:
    if kind == "python":
        return [[sys.executable, "-c", body]]

    lines = [shlex.split(line) for line in body.splitlines() if line.strip()]
    assert all(line[0] == "elevgen" for line in lines), lines
    return [[sys.executable, "-m", *line] for line in lines]


def run_page(page: Path, folder: Path, only: str = "") -> int:
    shutil.copytree(ROOT / "specs", folder / "specs")
    shutil.copytree(ROOT / "examples", folder / "examples", ignore=shutil.ignore_patterns("pictures", "*.md"))
    done = 0
    for kind, code, body in blocks(page):
        if only and kind != only:
            continue
        for words in command(kind, body):
            ran = subprocess.run(words, cwd=folder, capture_output=True, text=True, timeout=120)
            assert ran.returncode == code, f"{page.name}: {' '.join(words[:4])}\n{ran.stdout[-800:]}\n{ran.stderr[-2000:]}"
            done += 1
    return done


def test_there_is_one_walk_through_for_each_kind_of_user():
    assert {p.stem for p in PAGES} == {"bricklayer", "designer", "estimator", "self-builder"}


@pytest.mark.parametrize("page", PAGES, ids=lambda p: p.stem)
def test_walk_through_runs_as_written(page, tmp_path):
    assert run_page(page, tmp_path) >= 2


def test_readme_python_runs_as_written(tmp_path):
    assert run_page(ROOT / "README.md", tmp_path, only="python") == 1


def test_readme_commands_for_prices_run_as_written(tmp_path):
    """Those of the section Prices; the README's first two commands need a machine of their own, and have a script."""
    (section,) = re.findall(r"^## Prices$.*?(?=^## )", (ROOT / "README.md").read_text(encoding="utf-8"), re.M | re.S)
    (tmp_path / "page.md").write_text(section, encoding="utf-8")
    assert run_page(tmp_path / "page.md", tmp_path) == 2
    assert (tmp_path / "out" / "priced" / "studio-bill.csv").exists()


def test_readme_commands_for_rules_run_as_written(tmp_path):
    (section,) = re.findall(r"^## Rules$.*?(?=^## )", (ROOT / "README.md").read_text(encoding="utf-8"), re.M | re.S)
    (tmp_path / "page.md").write_text(section, encoding="utf-8")
    assert run_page(tmp_path / "page.md", tmp_path) == 4


@pytest.mark.parametrize("page", [*PAGES, ROOT / "README.md"], ids=lambda p: p.stem)
def test_pictures_and_links_are_there(page):
    targets = re.findall(r"\]\((?!http)([^)#]+)\)", page.read_text(encoding="utf-8"))
    missing = [t for t in targets if not (page.parent / t).exists()]
    assert not missing


def test_the_readmes_product_figures_are_taken():
    """The overrides of the README in the demo's spec: every joint then has a calculated width."""
    from elevgen import pipeline
    from elevgen.spec.models import Override

    (fragment,) = re.findall(
        r"^```json\n(\"overrides\": .*?)^```$", (ROOT / "README.md").read_text(encoding="utf-8"), re.M | re.S
    )
    given = tuple(Override.model_validate(one) for one in json.loads(f"{{{fragment}}}")["overrides"])
    spec = pipeline.load(ROOT / "specs" / "studio.json").model_copy(update={"overrides": given})
    joints = pipeline.design(spec).plan.joints
    assert joints
    assert all(joint.width.calculated is not None for joint in joints)
