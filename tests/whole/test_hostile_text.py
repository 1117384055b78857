"""No text a user types comes alive or breaks a file: over 500 of them through every free-text field of the spec, through price
books and through the notes of an earlier workbook. The fields are found from the models, so a new one is covered unasked."""

from __future__ import annotations

import csv
import io
import re
import shutil
import subprocess
from collections.abc import Sequence
from functools import cache
from pathlib import Path
from typing import Any
from xml.etree import ElementTree
from zipfile import ZipFile

import pytest
from hostile import FORMULAS, FREE, HARMLESS, KEYS, REFUSED, Place, as_json, fields, filled, places, texts
from openpyxl import load_workbook

from elevgen import pipeline
from elevgen.core.errors import OutputError, SpecError
from elevgen.drawing.compose import compose
from elevgen.drawing.scene import Scene
from elevgen.result import Design
from elevgen.spec.load import parse_text
from elevgen.spec.starter import starter_text
from elevgen.takeoff.measure import measure
from elevgen.takeoff.model import Takeoff
from elevgen.takeoff.pricing import KeptBook, KeptLine, PriceBook, PriceLine, rates_for
from elevgen.takeoff.rates import Own, Rates
from elevgen.takeoff.sections import by_item
from elevgen.writers import renderer
from elevgen.writers._package import Package
from elevgen.writers._xlsx_text import plain

RAW: dict[str, Any] = {
    "spec": 1,
    "project": {},
    "measurement": {"packs": {"units": {"holds": 12, "name": "pack"}}},
    "units": {"facing": {"material": "clay", "length": 215, "height": 65, "width": 102.5}},
    "leaves": {"front": {"zones": [{"unit": "facing"}]}},
    "wall_types": {"thin": {"outer": "front"}},
    "overrides": [{"rule": "sealant.movement_capability", "value": 25, "reason": "x", "by": "x"}],
    "waivers": [{"finding": "short-return", "where": "W1", "reason": "x", "by": "x"}],
    "walls": [{"id": "W1", "type": "thin", "start": [0, 0], "end": [1347.5, 0], "top": 375}],
}
"""One small wall and one of everything that takes text."""

NO_SCENE = Scene("", "", (), (), (), (), ())
LIVE = ("=", "+", "-", "@", "\t", "\r", "\uff1d", "\uff0b", "\uff0d", "\uff20")
UNSEEN = re.compile(r"^[\s\u200b-\u200f\u202a-\u202e\u2060-\u2069\ufeff]+")


@cache
def vocabulary():
    return pipeline.vocabulary()


def parsed(raw: dict[str, Any]):
    return parse_text(as_json(raw), "hostile.json", vocabulary())


@cache
def free_places() -> tuple[Place, ...]:
    return tuple(place for _, place in places(parsed(RAW)))


def legal(text: str) -> bool:
    """Whether the fields take this text: one line, not too long, without control characters and half pairs."""
    try:
        parsed(filled(RAW, same(text), cut=len(text) <= 200))
    except SpecError:
        return False
    return True


def same(text: str) -> dict[Place, str]:
    return dict.fromkeys(free_places(), text)


@cache
def legal_texts() -> tuple[str, ...]:
    return tuple(text for text in texts() if legal(text))


def workbook_cells(content: bytes) -> tuple[set[str], list[str]]:
    """Formulas, row numbers left out, and all texts of a workbook; every file in it has to be well-formed."""
    with ZipFile(io.BytesIO(content)) as archive:
        for name in archive.namelist():
            if name.endswith((".xml", ".rels", ".vml")):
                ElementTree.fromstring(archive.read(name))
    formulas, held = set(), []
    for page in load_workbook(io.BytesIO(content)).worksheets:
        for row in page.iter_rows():
            for cell in row:
                if cell.data_type == "f":
                    formulas.add(f"{page.title}: " + re.sub(r"\d+", "#", getattr(cell.value, "text", None) or str(cell.value)))
                elif isinstance(cell.value, str):
                    held.append(cell.value)
    return formulas, held


def live_fields(content: bytes) -> list[str]:
    """Fields of a CSV file that a spreadsheet takes for a formula, whatever it takes for the separator; numbers are none."""
    found = []
    text = content.decode("utf-8-sig")
    for separator in ",;":
        for row in csv.reader(io.StringIO(text, newline=""), delimiter=separator):
            found += [field for field in row if UNSEEN.sub("", field.strip('"')).startswith(LIVE) and not _number(field)]
    return found


def _number(field: str) -> bool:
    return re.fullmatch(r"-?\d+(\.\d+)?", field) is not None


def files(design: Design, rates: Rates = Rates()) -> dict[str, bytes]:  # noqa: B008 - frozen
    package = Package(design, measure(design), NO_SCENE, rates)
    return {format: content for format in ("xlsx", "csv") for content in renderer(format)(package).values()}


def drawn(text: str) -> Design:
    return pipeline.design(parsed(filled(RAW, same(text))), "hostile")


@cache
def own_formulas() -> set[str]:
    return workbook_cells(files(drawn(HARMLESS))["xlsx"])[0]


def test_there_are_over_five_hundred_and_most_can_be_written_in_a_spec():
    assert len(texts()) >= 500
    assert len(legal_texts()) >= 300


def test_every_field_for_free_text_is_in_the_spec_they_are_tried_with():
    """A field that is new is found by its model; one of a model that RAW has none of fails here: put one in."""
    tried = {where for where, _ in places(parsed(RAW))}
    assert {where for where, (kind, _) in fields().items() if kind in (FREE, KEYS)} == tried
    assert {("Project", "title"), ("WallModel", "name"), ("Waiver", "reason"), ("Override", "by"), ("Spec", "units")} <= tried
    assert {where[0] for where, (kind, _) in fields().items() if kind == REFUSED} == {"Override", "SheetModel"}


def test_what_no_line_may_hold_is_refused_in_every_field():
    bad = [text for text in texts() if text not in set(legal_texts())]
    assert max(map(len, bad)) > 32_767
    for number, text in enumerate(bad):
        place = free_places()[number % len(free_places())]
        with pytest.raises(SpecError):
            parsed(filled(RAW, {place: text}, cut=False))


def check_harmless(filling: dict[Place, str]) -> None:
    made = files(pipeline.design(parsed(filled(RAW, filling)), "hostile"))
    formulas, held = workbook_cells(made["xlsx"])
    assert formulas == own_formulas(), filling
    assert not live_fields(made["csv"]), filling
    title = plain(filling[free_places()[0]]).strip()
    assert any(title in cell.replace("_x005F_", "_") for cell in held), title


@pytest.mark.parametrize("text", [text for text in FORMULAS if "\n" not in text])
def test_what_begins_like_a_formula_stays_text_in_every_field_at_once(text):
    check_harmless(same(text))


@pytest.mark.parametrize("share", range(4))
def test_no_text_of_a_spec_comes_alive(share):
    """A different text in every field: each draw moves them on, so that every text is drawn and every field has many."""
    some, step = legal_texts(), len(free_places())
    draws = range(0, len(some), step - 1)
    shift = len(some) // 3
    for start in (*draws, *(n + shift for n in draws))[share::4]:
        check_harmless({place: some[(start + n * (1 + start % 3)) % len(some)] for n, place in enumerate(free_places())})


@pytest.mark.parametrize("field", sorted(where for where, (kind, _) in fields().items() if kind == REFUSED))
def test_text_that_has_to_be_known_is_refused(field):
    spot = {"Override": ("overrides", 0), "SheetModel": ("sheet",)}[field[0]]
    for text in legal_texts()[::23]:
        if text.strip():
            with pytest.raises(SpecError):
                pipeline_refuses(filled(RAW, {Place((*spot, field[1]), 200): text}))


def pipeline_refuses(raw: dict[str, Any]) -> None:
    from elevgen.drawing.own_layers import layers_of

    spec = parsed(raw)
    layers_of(spec)
    pipeline.try_template(pipeline.design(spec, "hostile"))


@cache
def calm() -> Design:
    return drawn(HARMLESS)


@cache
def larger() -> tuple[Design, Takeoff]:
    """Walls whose bill has some dozens of lines, each with a note to be put into it."""
    raw = starter_text("l", "4.5 m", "3.1 m", "1.2 m", HARMLESS)
    design = pipeline.design(parse_text(raw, "larger.json", vocabulary()), "hostile")
    return design, measure(design)


def brought(some: Sequence[str]) -> Rates:
    """Each text as a line of a price book, as one of an earlier workbook that is gone, and as notes of the lines there are."""
    takeoff = larger()[1]
    book = tuple(PriceLine(text, text, text, 1.0, None, f"row {n}") for n, text in enumerate(some, 2))
    gone = tuple(KeptLine(text, text, text, Own(rate=2.0, note=text, order_note=text), text) for text in some)
    billed = [(code, of[0].unit) for code, of in by_item(takeoff.quantities)]
    ordered = [(order.code, order.unit) for order in takeoff.orders]
    notes, order_notes = (
        tuple(KeptLine(code, "", unit, Own(note=text), "") for (code, unit), text in zip(lines, some, strict=False))
        for lines in (billed, ordered[::-1])
    )
    orders = tuple(line._replace(own=Own(order_note=line.own.note)) for line in order_notes)
    return rates_for(takeoff, PriceBook("=book.csv", book), KeptBook("=old.xlsx", (*gone, *notes), orders))


@cache
def calm_formulas(lines: int) -> set[str]:
    """The formulas of the same workbook when as many lines say nothing harmful."""
    return workbook_cells(files(larger()[0], brought([f"none {n}" for n in range(lines)]))["xlsx"])[0]


def test_no_text_of_a_price_book_or_of_kept_notes_comes_alive():
    """What a price book says shows on the sheet Rates, kept notes in the bill and the order list too."""
    design, takeoff = larger()
    fitting = [text for text in texts() if len(text) <= 32_767]
    share = len(by_item(takeoff.quantities))
    assert share > 15
    for start in range(0, len(fitting), share):
        some = fitting[start : start + share]
        made = files(design, brought(some))
        assert not live_fields(made["csv"])
        assert workbook_cells(made["xlsx"])[0] == calm_formulas(len(some))


@pytest.mark.parametrize("format", ["xlsx", "csv"])
def test_a_note_longer_than_a_cell_is_refused_and_not_cut(format):
    takeoff = measure(calm())
    code = takeoff.quantities[0].code
    package = Package(calm(), takeoff, NO_SCENE, Rates({code: Own(note="x" * 32_768)}))
    with pytest.raises(OutputError, match="32767"):
        renderer(format)(package)


def test_drawings_and_data_stay_well_formed():
    """SVG with two dozen of the texts: the rest of the drawings have tests of their own."""
    for text in legal_texts()[::20]:
        design = drawn(text)
        package = Package(design, measure(design), compose(design))
        for content in renderer("svg")(package).values():
            ElementTree.fromstring(content)


def complaints(folder: Path, name: str, content: bytes) -> set[str]:
    """What another spreadsheet says while it turns a file into CSV; it has to come to its end and write something."""
    (folder / name).write_bytes(content)
    out = folder / f"{name}.out"
    command = ["ssconvert", "-S", "-T", "Gnumeric_stf:stf_csv", str(folder / name), str(out)]
    ran = subprocess.run(command, capture_output=True, text=True, timeout=120)
    assert ran.returncode == 0, ran.stderr
    assert list(folder.glob(f"{out.name}*"))
    return set(ran.stderr.splitlines())


@pytest.mark.skipif(not shutil.which("ssconvert"), reason="gnumeric is not installed")
def test_a_second_spreadsheet_reads_a_sample_without_complaint(tmp_path: Path):
    """It knows not every part of the format; it complains of nothing that it does not of harmless text."""
    usual = {format: complaints(tmp_path, f"usual.{format}", content) for format, content in files(calm()).items()}
    for number, text in enumerate(legal_texts()[:: len(legal_texts()) // 4]):
        for format, content in files(drawn(text)).items():
            assert complaints(tmp_path, f"{number}.{format}", content) <= usual[format], repr(text)
