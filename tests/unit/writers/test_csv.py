"""The flat bill: what other programs read is what the take-off says, and no field of it comes alive."""

from __future__ import annotations

import csv
import io
from dataclasses import replace
from math import fsum

import pytest
from hypothesis import given
from hypothesis import strategies as st

from elevgen import pipeline
from elevgen.drawing.scene import Scene
from elevgen.spec.load import parse_text
from elevgen.spec.starter import starter_text
from elevgen.takeoff.measure import measure
from elevgen.takeoff.rates import Own, Rates
from elevgen.takeoff.sections import by_item, section
from elevgen.writers._package import Package
from elevgen.writers.csv import field_text, harmless, render

LIVE = ("=", "+", "-", "@", "\t", "\r", "\uff1d", "\uff0b", "\uff0d", "\uff20")


@pytest.fixture(scope="module")
def package() -> Package:
    spec = parse_text(starter_text("l", "9.35 m", "5.6 m", "2.4 m", "Kiln"), "starter", pipeline.vocabulary())
    design = pipeline.design(spec, "kiln")
    return Package(design, measure(design), Scene("", "", (), (), (), (), ()))


def rows(package: Package) -> list[dict[str, str]]:
    ((name, content),) = render(package).items()
    assert name == "kiln-bill.csv"
    return list(csv.DictReader(io.StringIO(content.decode("utf-8-sig"), newline=""), strict=True))


def test_a_row_for_every_line_of_the_bill_in_its_order(package):
    items = by_item(package.takeoff.quantities)
    assert [row["Code"] for row in rows(package)] == [code for code, _ in items]
    for row, (code, places) in zip(rows(package), items, strict=True):
        assert (row["Section"], row["Description"], row["Unit"]) == (section(code), places[0].item, places[0].unit)
        assert float(row["Quantity"]) == pytest.approx(fsum(q.net for q in places), abs=5e-5)
        assert (row["Rate"], row["Amount"], row["Note"]) == ("", "", "")


def test_rates_amounts_and_notes(package):
    first, second = (code for code, _ in by_item(package.takeoff.quantities)[:2])
    quantity = next(float(row["Quantity"]) for row in rows(package) if row["Code"] == first)
    own = {first: Own(rate=96.125, note='=as told, "dry"\nor wet'), second: Own(rate=0.0)}
    told = rows(replace(package, rates=Rates(own)))
    assert told[0]["Rate"] == "96.125"
    assert told[0]["Amount"] == f"{float(told[0]['Amount']):.2f}"
    assert abs(float(told[0]["Amount"]) - quantity * 96.125) <= 0.005 + 1e-9
    assert told[0]["Note"] == '\'=as told, "dry" or wet'
    assert (told[1]["Rate"], told[1]["Amount"], told[2]["Amount"]) == ("0", "0.00", "")


def test_the_file_is_as_rfc_4180_has_it_with_a_mark(package):
    (content,) = render(package).values()
    assert content.startswith(b'\xef\xbb\xbf"Section","Code"')
    assert content.count(b"\n") == content.count(b"\r\n") == len(by_item(package.takeoff.quantities)) + 1
    assert content.endswith(b"\r\n")


def test_the_measurement_rules_give_the_order_of_the_columns(package):
    rules = replace(package.takeoff.measured_by, given={"column_order": "unit-qty"})
    ((_, content),) = render(replace(package, takeoff=replace(package.takeoff, measured_by=rules))).items()
    assert b'"Description","Unit","Quantity","Rate"' in content
    assert b'"Description","Quantity","Unit","Rate"' in next(iter(render(package).values()))


@pytest.mark.parametrize(
    ("number", "written"),
    [(1e-7, "0.0000001"), (12345678.9, "12345678.9"), (3, "3"), (0.1 + 0.2, "0.3"), (1e12, "1000000000000")],
)
def test_numbers_are_plain(number, written):
    assert field_text(number) == written


@pytest.mark.parametrize(
    ("text", "written"),
    [
        ("=1+1", "'=1+1"),
        ("  \t@SUM(1)", "'   @SUM(1)"),
        ("\u00a0-1", "'\u00a0-1"),
        ("\u200b=1", "'\u200b=1"),
        ("\uff1d1", "'\uff1d1"),
        ("x;=1", "x;'=1"),
        ("a - b", "a - b"),
        ("3/4 = 0.75", "3/4 = 0.75"),
        ("\x00=1", "\ufffd=1"),
    ],
)
def test_what_might_come_alive_gets_an_apostrophe(text, written):
    assert harmless(text) == written


ODD = st.text(st.sampled_from("=+-@\t\r\n;,\"' a\u00a0\u200b\uff1d\x00\x1b|!") | st.characters(), max_size=12)


@given(st.lists(ODD, min_size=1, max_size=5))
def test_no_text_comes_alive_however_the_columns_are_parted(texts):
    line = ",".join(map(field_text, texts))
    assert not {c for c in line if ord(c) < 32}
    for separator in ",;\t":
        for field in next(csv.reader([line], delimiter=separator), []):
            shown = field.strip().lstrip('\u200b\u200e\u200f\ufeff"').strip()
            assert not shown.startswith(LIVE), (separator, field)


@given(ODD)
def test_harmless_text_keeps_its_words(text):
    assert harmless(text).replace("'", "").split() == field_words(text)


def field_words(text: str) -> list[str]:
    from elevgen.writers._xlsx_text import plain

    return plain(text).replace("'", "").split()
