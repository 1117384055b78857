"""Whether a bill, in the workbook or as CSV, says what the places of a written `design.json` add up to."""

from __future__ import annotations

import csv
import re
from collections import defaultdict
from collections.abc import Iterator, Mapping
from decimal import ROUND_FLOOR, Decimal
from functools import cache
from io import BytesIO, StringIO
from math import fsum, isclose
from typing import Any

from openpyxl import load_workbook
from reconcile import FINE, WRITTEN, Record


def bill_faults(doc: Record, bill: Mapping[str, tuple[float, str]], of: str) -> Iterator[str]:
    """A written bill, quantity and unit by code, against the sums of the places in `design.json`, rounded as its rules say."""
    sums, units = defaultdict[str, list[float]](list), {}
    kinds = {q["code"]: q["kind"] for q in doc["quantities"]}
    for q in doc["quantities"]:
        sums[q["code"]].append(q["net"])
        units[q["code"]] = q["unit"]
    if set(sums) != set(bill):
        yield f"{of}: other items: {sorted(set(sums) ^ set(bill))}"
    for code in sorted(set(sums) & set(bill)):
        if "shown_in" in doc and bill[code][1] != units[code]:
            yield from _shown(doc, code, fsum(sums[code]), units[code], bill[code], of, kinds[code])
            continue
        due = _billed(doc, fsum(sums[code]), units[code], kinds[code])
        if not isclose(bill[code][0], due, abs_tol=FINE) or bill[code][1] != units[code]:
            yield f"{of}: {bill[code]} of {code}, {due} {units[code]} by its places"


CUSTOMARY = {
    "m": ("ft", "foot", "meter"),
    "m2": ("sq ft", "foot ** 2", "meter ** 2"),
    "m3": ("cu ft", "foot ** 3", "meter ** 3"),
    "l": ("fl oz", "US_fluid_ounce", "liter"),
}
"""By unit of `design.json`, that of the bill where lengths are in feet; and both as pint, which judges it, calls them."""


@cache
def _one(unit: str, of: str) -> float:
    """How many of one unit another is, by pint."""
    import pint

    return float(pint.UnitRegistry().Quantity(1.0, unit).to(of).magnitude)


def _shown(doc: Record, code: str, total: float, unit: str, billed: tuple[float, str], of: str, kind: str) -> Iterator[str]:
    """A line of a bill in feet, turned back by pint: rounded as it is, and as its places were."""
    name, theirs, ours = CUSTOMARY[unit]
    one = _one(theirs, ours)
    back = billed[0] * one
    places = sum(q["code"] == code for q in doc["quantities"])
    rounded = kind == "work" and any(r["rule"].startswith("qty_round") and "not" not in r["value"] for r in doc["measured_by"])
    within = WRITTEN / 2 * (places + one * (places + 1)) + (0.005 * one if rounded else 0.0)
    if billed[1] != name or abs(back - total) > within + 1e-9:
        yield f"{of}: {billed} of {code} is {back} {unit}, {total} by its places"
    size = float(doc["shown_in"][unit]["size"])
    if abs(size - one) > 1e-9 * one or doc["shown_in"][unit]["unit"] != name:
        yield f"{of}: {unit} is shown in {doc['shown_in'][unit]}"


def _billed(doc: Record, total: float, unit: str, kind: str) -> float:
    rules = {rule["rule"]: rule["value"] for rule in doc["measured_by"]}
    said = rules.get(f"qty_round_{unit}", rules.get("qty_round", ""))
    number = re.match(r"[0-9.]+", said)
    if not number or (kind == "material" and unit in ("m3", "l")):
        return round(total, 0 if unit == "nr" else 4)
    step = Decimal(number[0])
    steps = (Decimal(f"{total:.6f}") / step + Decimal("0.5")).to_integral_value(ROUND_FLOOR)
    due = float(steps * step)
    if due == 0 and total > 0 and rules.get("keep_at_least_one") == "yes":
        return 1.0
    return round(due, 0 if unit == "nr" else 4)


def workbook_bill(book: bytes) -> dict[str, tuple[float, str]]:
    """Quantity and unit of every item on the sheet Bill, as stored."""
    rows = load_workbook(BytesIO(book), data_only=True, read_only=True)["Bill"].iter_rows(values_only=True)
    return _bill_of(list(rows))


def csv_bill(text: bytes) -> dict[str, tuple[float, str]]:
    """Quantity and unit of every item of the bill as CSV."""
    return _bill_of(list(csv.reader(StringIO(text.decode("utf-8-sig")))))


def _bill_of(rows: list[Any]) -> dict[str, tuple[float, str]]:
    heads = next(n for n, row in enumerate(rows) if "Code" in row and "Quantity" in row)
    code, quantity, unit = (list(rows[heads]).index(name) for name in ("Code", "Quantity", "Unit"))
    return {
        row[code]: (float(row[quantity]), row[unit]) for row in rows[heads + 1 :] if row[code] and row[quantity] not in (None, "")
    }
