"""Thousands of buildings nobody drew, every bill reconciled from its files alone: pytest -m bench.

Small buildings by the thousand, a few dozen of those with everything a spec can say; each under a rule set of its own, with
waste and packs of all kinds.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Callable
from pathlib import Path
from random import Random
from typing import Any

import pytest

from elevgen import pipeline
from elevgen.core.errors import SpecError
from elevgen.spec.load import parse_text
from elevgen.takeoff.measure import measure
from elevgen.writers import csv
from elevgen.writers._package import Package
from elevgen.writers.json import document, text

sys.path.insert(0, str(Path(__file__).parent.parent / "whole"))

from buildings import random_spec
from fitted_buildings import fitted_spec
from reconcile import faults
from reconcile_bill import bill_faults, csv_bill
from small_buildings import measurement, small_spec

HUNDRED = 100
REFUSED_MOST = 0.05


def large(make: Callable[[int], dict[str, Any]]) -> Callable[[int], dict[str, Any]]:
    return lambda seed: {**make(seed), "measurement": measurement(Random(f"asked {seed}"))}


def reconciled(make: Callable[[int], dict[str, Any]], seeds: range) -> int:
    """How many of the buildings were measured; every one of them must be without fault."""
    words, found, judged = pipeline.vocabulary(), {}, 0
    for seed in seeds:
        try:
            design = pipeline.design(parse_text(json.dumps(make(seed)), str(seed), words), str(seed))
        except SpecError:
            continue
        judged += 1
        takeoff = measure(design)
        doc = json.loads(text(document(design, takeoff)))
        (lines,) = csv.render(Package(design, takeoff, None)).values()  # type: ignore[arg-type]
        if told := [*faults(doc), *bill_faults(doc, csv_bill(lines), "csv")]:
            found[seed] = told
    assert found == {}
    return judged


@pytest.mark.bench
@pytest.mark.parametrize("hundred", range(30))
def test_thousands_of_small_buildings_reconcile(hundred: int) -> None:
    seeds = range(HUNDRED * hundred, HUNDRED * (hundred + 1))
    assert reconciled(small_spec, seeds) >= (1 - REFUSED_MOST) * HUNDRED


@pytest.mark.bench
@pytest.mark.parametrize("make", [random_spec, fitted_spec], ids=lambda make: make.__name__)
@pytest.mark.parametrize("ten", range(6))
def test_dozens_of_whole_buildings_reconcile(make: Callable[[int], dict[str, Any]], ten: int) -> None:
    assert reconciled(large(make), range(10 * ten, 10 * ten + 10)) >= 8
