"""The workbook read back with openpyxl: sums, text that stays text, print setup, the same bytes every time."""

import json
import os
import re
import subprocess
import sys
import time
from collections import defaultdict
from dataclasses import replace
from io import BytesIO
from pathlib import Path
from zipfile import ZipFile

import pytest
from openpyxl import Workbook, load_workbook
from openpyxl.worksheet.worksheet import Worksheet

from elevgen.result import Finding
from elevgen.writers._package import Package
from elevgen.writers._xlsx_text import plain
from elevgen.writers.json import render as render_json
from elevgen.writers.xlsx import render

SHEETS = [
    *("Summary", "Bill", "Measurement", "Order list", "Call-off", "Lifts and panels", "Joints", "Reinforcement", "Lintels"),
    *("Ties", "Damp-proofing", "Units and cuts", "Findings", "Basis", "Inputs"),
]
PADDING = 0.72
"""What the file adds to a column's width for the edges of its cells, characters."""
HOSTILE = [
    '=HYPERLINK("http://x","y")',
    "=cmd|' /C calc'!A0",
    "+1+1",
    "-2+3",
    "@SUM(1)",
    "\t=1+1",
    " =1+1",
    "=",
    "a\x00b\x1fc",
    "\ud800 alone",
    "\uffff",
    "</v></c><c><f>1+1</f>",
    "&amp;",
    "\r\n=1",
    "_x0041_",
    "é ± ² 数",
    "'quoted",
]


def opened(package: Package, formulas: bool = False) -> Workbook:
    """The workbook with the values stored in it, or with its formulas."""
    (content,) = render(package).values()
    return load_workbook(BytesIO(content), data_only=not formulas)


def table(page: Worksheet, heading: str) -> list[dict[str, object]]:
    """The rows of the table under a heading, by column."""
    rows = list(page.iter_rows(values_only=True))
    start = next(i for i, row in enumerate(rows) if i > 2 and row[0] == heading)
    columns = rows[start + 1]
    found = []
    for row in rows[start + 2 :]:
        if all(value is None for value in row):
            break
        found.append({str(name): value for name, value in zip(columns, row, strict=True) if name})
    return found


def formulas_in(content: bytes) -> list[bytes]:
    """Every formula of a workbook's file, wherever it stands."""
    with ZipFile(BytesIO(content)) as archive:
        return [text for name in archive.namelist() for text in re.findall(rb"<f[ >][^<]*", archive.read(name))]


@pytest.fixture
def book(small_package: Package) -> Workbook:
    return opened(small_package)


def test_every_sheet_is_there_and_headed(book: Workbook) -> None:
    assert book.sheetnames == SHEETS
    for page in book:
        assert page["A1"].value == page.title
        assert page["A2"].value


def test_bill_measurement_design_json_and_take_off_agree(book: Workbook, small_package: Package) -> None:
    bill = {row["Code"]: row["Quantity"] for row in table(book["Bill"], "The whole building") if row["Code"]}
    by_place: dict[str, float] = defaultdict(float)
    for row in table(book["Measurement"], "By leaf and wall"):
        by_place[str(row["Code"])] += float(str(row["Quantity"]))
    in_json: dict[str, float] = defaultdict(float)
    for quantity in json.loads(render_json(small_package)["design.json"])["quantities"]:
        in_json[quantity["code"]] += quantity["net"]
    taken = {q.code for q in small_package.takeoff.quantities}
    assert set(bill) == set(by_place) == set(in_json) == taken
    for code in taken:
        net = sum(q.net for q in small_package.takeoff.quantities if q.code == code)
        assert bill[code] == pytest.approx(net, abs=1e-9)
        assert by_place[code] == pytest.approx(net, abs=1e-9)
        assert in_json[code] == pytest.approx(net, abs=1e-9)


def test_the_order_list_covers_what_is_needed_and_shows_how_waste_is_known(book: Workbook, small_package: Package) -> None:
    rows = table(book["Order list"], "Materials")
    known = {row["Code"]: row for row in table(book["Order list"], "Where these figures come from")}
    assert [row["Code"] for row in rows] == [order.code for order in small_package.takeoff.orders]
    for row, order in zip(rows, small_package.takeoff.orders, strict=True):
        assert row["Order"] == order.order >= order.needed == row["Needed"]
        assert f"Waste: {order.waste_known}." in str(known[order.code]["How it is known"])
    sealant = next(row for row in rows if row["Code"] == "JT-SEAL-L")
    assert (known["JT-SEAL-L"]["Net"], sealant["Waste %"], sealant["Order"], sealant["Unit"]) == (0.036, 10, 0.1, "l")


def test_schedules_hold_what_was_designed(book: Workbook) -> None:
    (joint,) = table(book["Joints"], "Movement joints")
    assert (joint["At"], joint["Width built"], joint["Width by movement"]) == (671, 12, "not calculated")
    (parts,) = table(book["Joints"], "What fills each joint")
    assert (parts["Sealant litres"], parts["Faces sealed"], parts["Backer rod diameter"]) == (0.036, 1, 15)
    (relaxed,) = table(book["Joints"], "Rules no placement could keep")
    assert (relaxed["Where"], relaxed["Measured"], relaxed["Limit"]) == ("J1", 215, 300)
    lengths = table(book["Reinforcement"], "Lengths as fixed")
    assert [row["Net m"] for row in lengths] == pytest.approx([0.6373, 0.2073, 0.625])
    cut = {row["Length mm"]: row["Number"] for row in table(book["Reinforcement"], "Pieces to cut")}
    assert cut == {625: 1, 500: 1, 362.3: 1, 207.3: 1}
    assert [row["Depth"] for row in table(book["Lintels"], "Lintels")] == ["not chosen", 65]
    assert [row["Mass kg"] for row in table(book["Lintels"], "Lintels")] == ["not known", "not known"]
    (ties,) = table(book["Ties"], "Wall ties, by wall")
    assert (ties["General"], ties["At openings"], ties["All wall ties"], ties["Beds of both leaves meet"]) == (1, 2, 4, "no")
    panel, bare = table(book["Ties"], "Ties in the masonry between movement joints")
    assert (panel["To"], panel["Ties"], panel["Ties a m2"], panel["Asked for, a m2"]) == (671, 4, 25, 2.5)
    assert (bare["Ties a m2"], bare["Large enough to judge"]) == ("not calculated", "no")
    assert [row["By the rules"] for row in table(book["Ties"], "What ties are there for")] == [
        "least number of ties to a square metre",
        "greatest distance up the wall between slip ties across a movement joint",
    ]
    slips = table(book["Ties"], "Slip ties across movement joints")
    assert [(row["Leaf"], row["At"]) for row in slips] == [("W1/outer", 671)] * 3


def test_a_lintel_of_known_mass_says_it(small_package: Package) -> None:
    first, *others = small_package.design.fittings.lintels
    fittings = replace(small_package.design.fittings, lintels=(replace(first, mass=113.41), *others))
    page = opened(replace(small_package, design=replace(small_package.design, fittings=fittings)))["Lintels"]
    assert [row["Mass kg"] for row in table(page, "Lintels")] == [113.41, "not known"]


def test_rule_keys_are_said_once_a_sheet_and_in_no_column(book: Workbook, small_package: Package) -> None:
    (key,) = {key for lintel in small_package.design.fittings.lintels for key in lintel.basis}
    for name in ("Joints", "Reinforcement", "Lintels", "Ties", "Damp-proofing"):
        cells = [(cell.column, cell.value) for row in book[name].iter_rows() for cell in row]
        assert [column for column, value in cells if value == key] == [1], name
    assert book["Lintels"].print_title_rows == "$5:$5"


def test_sheets_are_narrow_enough_to_be_read_when_printed(book: Workbook) -> None:
    """A4 landscape holds about 111 characters of 10 points; 186 across still print at 6."""
    for page in book:
        widths = [d.width - PADDING for d in page.column_dimensions.values() for _ in range(d.min, d.max + 1)]
        assert sum(widths) <= 186, page.title


def test_the_bill_is_in_the_order_of_the_trade(book: Workbook, small_package: Package) -> None:
    sections = [str(row["Section"]) for row in table(book["Bill"], "The whole building")]
    assert list(dict.fromkeys(sections)) == [
        *("Walling", "Units", "Mortar", "Movement joints", "Reinforcement", "Lintels", "Openings", "Ties"),
        *("Damp-proofing", "Cutting units", "Labours"),
    ]
    assert sections == sorted(sections, key=list(dict.fromkeys(sections)).index)
    codes = [row["Code"] for row in table(book["Bill"], "The whole building") if row["Code"]]
    ordered = [order.code for order in small_package.takeoff.orders]
    assert ordered == [code for code in codes if code in ordered]


def test_cut_sizes_add_up_to_the_cut_units(book: Workbook, small_package: Package) -> None:
    cuts = table(book["Units and cuts"], "Cut sizes")
    assert [(row["Unit"], row["Length"], row["Height"], row["Number"]) for row in cuts] == [("facing", 102.5, 65, 4)]
    (sawing,) = table(book["Units and cuts"], "How units are cut")
    assert (sawing["Pieces out of one length"], sawing["Lengths so cut"], sawing["Left of each"]) == ("102.5 + 102.5", 2, 2)
    bought = {(row["Lift"], row["Unit"]): row for row in table(book["Units and cuts"], "Units to buy, by scaffold lift")}
    columns = ("Laid whole", "Cut pieces", "Units these are cut out of", "Units to buy, no waste", "All of them kg, at most")
    assert [bought["1", "facing"][c] for c in columns] == [14, 4, 2, 16, 56]
    assert [bought["all", "inner block"][c] for c in columns] == [10, 0, 0, 10, 212]
    units = table(book["Units and cuts"], "Units by leaf")
    assert sum(int(str(row["Cut"])) for row in units) == 4
    assert sum(int(str(row["To lay"])) for row in units) == small_package.takeoff.total("UNIT-NR")


def test_every_rule_value_used_has_its_source_and_how_it_is_known(book: Workbook) -> None:
    rows = {row["Rule"]: row for row in table(book["Basis"], "Rule values used")}
    spacing = rows["movement_joint.spacing.normal.clay"]
    assert (spacing["Value"], spacing["Document"], spacing["Clause"]) == (12000, "An invented document", "4.2")
    assert spacing["How it is known"] == "quoted by others"
    assert rows["tie.length"]["Value"] == "up to 75: 200; up to 100: 225"
    assert rows["waste.mortar"]["How it is known"] == "from memory, check"
    assert table(book["Basis"], "Not covered by the rule set")[0]["Rule"] == "lintel.length_step"


def test_where_documents_disagree_the_others_and_why_stand_on_basis(small_package: Package) -> None:
    """As everywhere: the other figure with its source, why this one with the value; what says the same is no other figure."""
    key = "movement_joint.spacing.normal.clay"
    used = small_package.design.rules.values[key]
    other = replace(used, value=15000.0, document="Another invented document", status="memory", note="restrained walls")
    rules = replace(
        small_package.design.rules, alternatives={key: (other, replace(used, document="A third"))}, why={key: "the less"}
    )
    told = Package(replace(small_package.design, rules=rules), small_package.takeoff, small_package.scene)
    page = load_workbook(BytesIO(next(iter(render(told).values()))))["Basis"]
    (row,) = table(page, "Other figures, where documents disagree")
    assert (row["Rule"], row["Other figure"], row["Unit"], row["Document"]) == (key, 15000, "mm", "Another invented document")
    assert (row["How it is known"], row["Note"]) == ("from memory, check", "restrained walls")
    (held,) = [row for row in table(page, "Rule values used") if row["Rule"] == key]
    assert str(held["Note"]).endswith("why this one: the less")


def test_findings_keep_their_order_and_their_waiver(book: Workbook) -> None:
    rows = table(book["Findings"], "Findings")
    assert [row["Kind"] for row in rows] == ["Fails", "Not checked", "Warning"]
    assert rows[0]["Required"] == "at most 6000 mm"
    assert rows[1]["Required"] is None
    assert rows[2]["Accepted because"] == "tied to steel (engineer)"
    assert (rows[2]["Measured"], rows[2]["Required"]) == ("400 mm", "at least 675 mm")
    signs = {"<", ">", "=", "<=", ">=", "=="}
    assert not signs & {str(value) for row in rows for value in row.values()}


def test_a_level_off_the_courses_says_which_levels_are_on_one(small_package: Package) -> None:
    design = small_package.design
    (misfit,) = design.coursing.leaves[0].misfits
    finding = Finding(
        *("F9", "course-misfit", "warn", f"W1 {misfit.what}", "off the courses", misfit.level, "==", misfit.down, "mm"),
        walls=("W1",),
    )
    book = opened(replace(small_package, design=replace(design, findings=(finding,))))
    (row,) = table(book["Findings"], "Findings")
    assert (row["Measured"], row["Required"]) == ("+2.110", "one of +2.100 / +2.175")
    other = replace(finding, code="area-balance", measured=3.5, limit=4.0, unit="m2")
    book = opened(replace(small_package, design=replace(design, findings=(other,))))
    assert table(book["Findings"], "Findings")[0]["Required"] == "exactly 4 m2"


def test_passes_are_one_line_a_check_after_the_findings(small_package: Package) -> None:
    design = small_package.design
    passed = [Finding(f"P{n}", code, "pass", f"W{n}", "kept") for n, code in enumerate(["lap", "tie-spacing", "lap", "lap"])]
    book = opened(replace(small_package, design=replace(design, findings=(*design.findings, *passed))))
    rows = table(book["Findings"], "Findings")
    assert [row["Finding"] for row in rows[:-2]] == [f.id for f in design.findings]
    assert [(row["Kind"], row["Check"], row["Where"], row["Finding"]) for row in rows[-2:]] == [
        ("Passes", "lap", "3 places", None),
        ("Passes", "tie-spacing", "1 place", None),
    ]
    counts = {row["Kind"]: row["Number"] for row in table(book["Summary"], "Findings")}
    assert counts["Passes"] == 4


def test_inputs_are_the_spec_as_given(book: Workbook) -> None:
    rows = {row["Field"]: row["Value"] for row in table(book["Inputs"], "Spec")}
    assert rows["walls[0].openings[0].width"] == 235
    assert rows["project.title"] == "Hen house"
    assert rows["measurement.waste.ties"] == 12.5


def test_cautions_stand_on_the_summary_and_at_the_foot_of_every_sheet(book: Workbook) -> None:
    said = " ".join(str(cell) for row in book["Summary"].iter_rows(values_only=True) for cell in row if cell)
    for words in ("not a structural design", "qualified engineer", "Local codes", "silica dust"):
        assert words in said
    for words in ("Standing walls", "Work above 1.5 m"):
        assert words not in said, "a hen house 300 mm high that stands by itself"
    for page in book:
        foot = page.oddFooter.left.text
        assert "not a structural design" in foot
        assert "qualified engineer" in foot


def test_sheets_print_on_a4_landscape_one_page_wide_with_headings_in_sight(book: Workbook) -> None:
    for page in book:
        assert (page.page_setup.orientation, int(page.page_setup.paperSize)) == ("landscape", 9)
        assert (page.page_setup.fitToWidth or 1, page.page_setup.fitToHeight) == (1, 0)
        assert page.sheet_properties.pageSetUpPr.fitToPage
        assert page.freeze_panes == (None if page.title == "Summary" else "A6")
        assert page["A5"].font.bold == (page.title != "Summary")
    for name in ("Bill", "Measurement", "Order list"):
        assert book[name].print_title_rows == "$5:$5", name


def test_footers_fit_what_the_format_allows(small_package: Package) -> None:
    from xml.etree import ElementTree

    (content,) = render(small_package).values()
    with ZipFile(BytesIO(content)) as archive:
        sheets = [name for name in archive.namelist() if name.startswith("xl/worksheets/sheet")]
        assert len(sheets) == len(SHEETS)
        for name in sheets:
            root = ElementTree.fromstring(archive.read(name))
            (foot,) = root.iter("{http://schemas.openxmlformats.org/spreadsheetml/2006/main}oddFooter")
            assert 0 < len(foot.text or "") <= 255


@pytest.mark.parametrize("hostile", HOSTILE)
def test_text_stays_text(renamed, hostile: str) -> None:
    (content,) = render(renamed(hostile)).values()
    (harmless,) = render(renamed("word")).values()
    assert formulas_in(content) == formulas_in(harmless), "not one more, nor another, for what the text says"
    book = load_workbook(BytesIO(content))
    shown = table(book["Findings"], "Findings")[0]["What was found"]
    assert str(shown).replace("_x005F_", "_") == plain(hostile)
    assert (plain(hostile) == hostile) == (hostile.isprintable())


def test_text_like_a_formula_keeps_its_quote_when_edited(renamed) -> None:
    book = opened(renamed("=1+1"))
    cells = [cell for row in book["Findings"].iter_rows() for cell in row if cell.value == "=1+1"]
    assert cells
    assert all(cell.quotePrefix for cell in cells)


def test_rows_are_high_enough_for_the_text_in_them(renamed) -> None:
    book = opened(renamed("word " * 60))
    row = next(row for row in book["Findings"].iter_rows() if str(row[3].value).startswith("word"))[0].row
    lines = 300 / (1.25 * book["Findings"].column_dimensions["D"].width)
    assert (book["Findings"].row_dimensions[row].height or 0) > 12 * lines
    assert all((d.height or 0) <= 409 for page in opened(renamed("long " * 900)) for d in page.row_dimensions.values())


def test_two_renders_are_the_same_bytes_whatever_the_clock(small_package: Package, monkeypatch: pytest.MonkeyPatch) -> None:
    first = render(small_package)
    later = time.time() + 5 * 365 * 86400
    monkeypatch.setattr(time, "time", lambda: later)
    assert render(small_package) == first
    with ZipFile(BytesIO(first["hen-house.xlsx"])) as archive:
        assert {info.date_time for info in archive.infolist()} == {(1980, 1, 1, 0, 0, 0)}
        core = archive.read("docProps/core.xml").decode()
    assert core.count("2026-02-03T00:00:00Z") == 2


def test_the_bytes_do_not_depend_on_the_hash_seed() -> None:
    """Another process, other seeds: the small design is built from its conftest file anew."""
    here = Path(__file__)
    script = f"""
import hashlib, importlib.util, sys
spec = importlib.util.spec_from_file_location("c", {str(here.parents[1] / "conftest.py")!r})
c = importlib.util.module_from_spec(spec); sys.modules["c"] = c; spec.loader.exec_module(c)
package = c.small_package.__wrapped__(c.small_design.__wrapped__())
from elevgen.writers import json, xlsx
print(hashlib.sha256(b"".join([*xlsx.render(package).values(), *json.render(package).values()])).hexdigest())
"""
    digests = set()
    for seed in ("1", "2026"):
        env = {**os.environ, "PYTHONHASHSEED": seed}
        run = subprocess.run([sys.executable, "-c", script], env=env, capture_output=True, text=True, check=True)
        digests.add(run.stdout)
    assert len(digests) == 1
