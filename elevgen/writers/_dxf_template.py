"""A user's own DXF to draw into: read, judged fit or refused, and asked what it settles. The file itself is never written to."""

from __future__ import annotations

from dataclasses import dataclass
from difflib import get_close_matches
from pathlib import Path

from ezdxf import bbox, filemanagement
from ezdxf.addons.importer import Importer
from ezdxf.document import Drawing

from elevgen.core.errors import Fault, SpecError
from elevgen.core.geometry import Rect
from elevgen.writers._dxf_tables import BOLD_STYLE, STANDARD, TEXT_STYLE

LEAST_TAGS = 3
"""A block with so many attributes of the names we fill is a title block."""
UNITS = {0: "no unit", 1: "inches", 2: "feet", 4: "mm", 5: "cm", 6: "m", 13: "microns", 14: "dm"}
_NO_UNIT, _MM = 0, 4
_HANDLE = 5
OLDEST_WRITTEN = "AC1027"
"""R2013: a template of an earlier version is written as this one, a later one as what it is."""
_MOST_SAID = 3


@dataclass(frozen=True, slots=True)
class Template:
    """What a user's drawing settles: names of its text style, dimension style and title block, empty where it has none."""

    path: Path
    doc: Drawing
    """As it was read. Nothing is ever added to it: `fresh` gives another one to draw into."""
    text_style: str
    dimension_style: str

    def fresh(self) -> Drawing:
        """The drawing with all that is in it, to be added to; what can be mended in it is mended here."""
        doc = read(self.path)
        doc.audit()
        if doc.header.get("$INSUNITS", _NO_UNIT) == _NO_UNIT:
            doc.header["$INSUNITS"] = _MM
        doc.dxfversion = max(doc.dxfversion, OLDEST_WRITTEN)
        return doc

    def filled(self) -> Rect | None:
        """What its own things fill in model space; None where there is nothing."""
        box = bbox.extents(self.doc.modelspace(), fast=True)
        return Rect(box.extmin.x, box.extmin.y, box.extmax.x, box.extmax.y) if box.has_data else None

    def title_block(self, fields: frozenset[str]) -> str:
        """The first block, by name, with enough attributes of the names we fill; empty when there is none."""
        found = [
            block.name
            for block in self.doc.blocks
            if not block.is_any_layout and len({tag.dxf.get("tag", "").upper() for tag in block.attdefs()} & fields) >= LEAST_TAGS
        ]
        return min(found, key=lambda name: (name.lower(), name), default="")

    def lend(self, doc: Drawing, layers: tuple[str, ...]) -> None:
        """Copy into another drawing what the template says of these layers, of texts and of dimensions."""
        tables = self.doc.tables
        importer = Importer(self.doc, doc)
        importer.import_table("linetypes", [n for n in ("DASHED", "CENTER") if n in tables.linetypes])
        importer.import_table("layers", [n for n in layers if n in tables.layers])
        styles = [n for n in dict.fromkeys((self.text_style, BOLD_STYLE)) if n and n in tables.styles]
        importer.import_table("styles", styles)
        if self.dimension_style:
            importer.import_table("dimstyles", [self.dimension_style])
        # What those use, in an order: the library would take it in that of its sets.
        importer.import_table("linetypes", sorted(importer.used_linetypes))
        importer.import_table("styles", sorted(importer.used_styles))
        for arrow in sorted(importer.used_arrows & {block.name for block in self.doc.blocks}):
            importer.import_block(arrow, rename=False)
        importer.finalize()


def template_of(path: Path) -> Template:
    """Read a template. Raises SpecError when it is no DXF, is damaged, or is not drawn in millimetres."""
    doc = read(path)
    unit = doc.header.get("$INSUNITS", _NO_UNIT)
    if unit not in (_NO_UNIT, _MM):
        given = UNITS.get(unit, f"unit {unit}")
        raise _fault(f"{path.name} is drawn in {given}; all here is drawn in mm", given, "mm, or no unit ($INSUNITS 4 or 0)")
    errors = doc.audit().errors
    if errors:
        told = "; ".join(error.message for error in errors[:_MOST_SAID])
        raise _fault(f"{path.name} is damaged: {told}", f"{len(errors)} errors", "a DXF file that needs no repair")
    return Template(path, doc, _text_style(doc), _named(doc.dimstyles, doc.header.get("$DIMSTYLE", STANDARD)))


def read(path: Path) -> Drawing:
    """Read a DXF file. Raises SpecError when it is none."""
    try:
        doc = filemanagement.readfile(path)
        for line_type in doc.linetypes:  # of R12 files the library takes the handle for one of the dashes, and writes it twice
            line_type.pattern_tags.tags.remove_tags((_HANDLE,))
        return doc
    except Exception as error:  # a damaged file can make the library stumble anywhere
        near = next(iter(get_close_matches(path.name, sorted(p.name for p in path.parent.glob("*.dxf") if p != path), 1)), "")
        reason = " ".join(str(error).split()) or type(error).__name__
        raise _fault(f"{path.name} cannot be read as DXF: {reason}", path.name, "a DXF file, ASCII or binary", near) from None


def _text_style(doc: Drawing) -> str:
    """Our own where the template has it, else the one it writes with unless that is the usual one."""
    if TEXT_STYLE in doc.styles:
        return TEXT_STYLE
    return _named(doc.styles, doc.header.get("$TEXTSTYLE", STANDARD))


def _named(table: object, name: str) -> str:
    """A name that is in a table and is not the one every drawing has."""
    known = name in table  # type: ignore[operator]
    return name if known and name.lower() != STANDARD.lower() else ""


def _fault(message: str, given: str, allowed: str, near: str = "") -> SpecError:
    return SpecError((Fault(("sheet", "template"), message, given, allowed, near),))
