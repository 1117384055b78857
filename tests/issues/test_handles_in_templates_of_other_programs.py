"""In a template no ezdxf had written the last handle was given to two things ($HANDSEED named one in use); line types of R12
templates were written with their handle twice."""

from collections import Counter
from collections.abc import Callable
from pathlib import Path

import ezdxf
import pytest

from elevgen.drawing.compose import compose
from elevgen.result import Design
from elevgen.writers import dxf
from elevgen.writers._dxf_template import template_of


def _tags(data: bytes) -> list[tuple[str, str]]:
    lines = data.decode().splitlines()
    return list(zip((code.strip() for code in lines[::2]), lines[1::2], strict=True))


@pytest.mark.parametrize("version", ["R12", "R2000", "R2018"])
def test_every_handle_once_and_the_next_one_free(wall_of: Callable[..., Design], tmp_path: Path, version: str) -> None:
    doc = ezdxf.new(version, setup=True)
    if version != "R12":
        doc.header["$INSUNITS"] = 4
        doc.rootdict.remove("EZDXF_META")
    doc.modelspace().add_line((0, 0), (120, 50))
    path = tmp_path / "office.dxf"
    doc.saveas(path)
    text = path.read_text(encoding="utf-8")
    path.write_text(text.replace("EZDXF", "OTHER"), encoding="utf-8")
    scene = compose(wall_of({"end": [1500, 0], "top": 300}, {}, None))
    template = template_of(path)
    for made in (dxf.drawing(scene, "x", template=template), dxf.elevation(scene, scene.views[0], "x", template=template)):
        handles: Counter[str] = Counter()
        seed = kind = ""
        tags = _tags(made)
        for n, (code, value) in enumerate(tags):
            if (code, value) == ("9", "$HANDSEED"):
                seed = tags[n + 1][1]
            kind = value if code == "0" else kind
            if code == ("105" if kind == "DIMSTYLE" else "5") and kind != "SECTION":
                handles[value] += 1
        assert [handle for handle, count in handles.items() if count > 1] == []
        assert int(seed, 16) > max(int(handle, 16) for handle in handles)
