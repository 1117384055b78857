"""The order of the stages. Nothing else in the house knows it.

spec -> resolve -> trace -> place -> lay -> fit -> check; then, to write: measure and compose.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, replace
from hashlib import sha256
from pathlib import Path
from typing import TYPE_CHECKING

from elevgen import checks
from elevgen.bonds import bond_names
from elevgen.building.resolve import resolve
from elevgen.building.trace import trace
from elevgen.core.errors import SpecError
from elevgen.coursing.lay import lay
from elevgen.fittings.fit import fit
from elevgen.joints.place import place
from elevgen.result import Design
from elevgen.rules.book import RuleReader
from elevgen.rules.keys import KEYS
from elevgen.rules.loader import country_ids, load_book
from elevgen.rules.measurement_loader import measurement_ids
from elevgen.spec.faults import pointed_at
from elevgen.spec.load import load_file
from elevgen.spec.models import Spec
from elevgen.spec.vocabulary import Vocabulary
from elevgen.takeoff.rates import Rates

if TYPE_CHECKING:
    from elevgen.takeoff.model import Takeoff
    from elevgen.takeoff.pricing import KeptBook, PriceBook


def vocabulary() -> Vocabulary:
    """Every name a spec may use: rule sets, their units and keys, bonds, layer tables, finding codes, measurement rules."""
    from elevgen.drawing.layers import layer_tables

    rule_sets = country_ids()
    return Vocabulary(
        rule_sets=rule_sets,
        units={name: frozenset(load_book(name).units) for name in rule_sets},
        rule_keys=frozenset(KEYS),
        bonds=bond_names(),
        layer_tables=layer_tables(),
        finding_codes=checks.codes(),
        measurement_rules=measurement_ids(),
    )


def load(path: str | Path) -> Spec:
    """Read a spec file. Raises SpecError with every fault in it, or in the file of layers it names."""
    from elevgen.drawing.own_layers import layers_of

    spec = load_file(Path(path), vocabulary())
    layers_of(spec)
    return spec


def design(spec: Spec, name: str = "") -> Design:
    """Design and check a building. Raises SpecError for geometry the stages cannot build from."""
    book = load_book(spec.rules, spec.overrides)
    book = replace(book, lengths=spec.sheet.lengths or book.lengths)
    reader = RuleReader(book)
    building = resolve(spec, reader)
    runs = trace(building)
    plan = place(building, runs, reader, spec)
    coursing = lay(building, plan, reader)
    fittings = fit(building, runs, plan, coursing, reader)
    unchecked = Design(
        name=name or spec.project.number or "building",
        spec=spec,
        spec_sha256=sha256(spec.model_dump_json().encode()).hexdigest(),
        rules=book,
        rules_used=reader.used(),
        building=building,
        runs=runs,
        plan=plan,
        coursing=coursing,
        fittings=fittings,
        findings=(),
    )
    return replace(unchecked, findings=checks.run_checks(unchecked))


@dataclass(frozen=True, slots=True)
class OwnFigures:
    """What a user brings to a draw: a price book, an earlier workbook, either, none."""

    book: PriceBook | None = None
    kept: KeptBook | None = None


def read_own_figures(prices: str | Path | None = None, keep_rates: str | Path | None = None) -> OwnFigures:
    """Read a price book and an earlier workbook. Raises RatesError with all that is wrong, OSError where one is missing."""
    if prices is None and keep_rates is None:
        return OwnFigures()
    from elevgen.writers._kept_rates import read_kept_rates
    from elevgen.writers._price_book import read_price_book

    book = None if prices is None else read_price_book(Path(prices))
    return OwnFigures(book, None if keep_rates is None else read_kept_rates(Path(keep_rates)))


def bill(design: Design, own: OwnFigures | None = None) -> tuple[Takeoff, Rates]:
    """A design measured, and a user's figures matched to it. Raises RatesError where they cannot be matched without guessing."""
    from elevgen.takeoff.measure import measure
    from elevgen.takeoff.pricing import rates_for

    takeoff = measure(design)
    return takeoff, rates_for(takeoff.for_people, own.book, own.kept) if own else Rates()


def write(
    design: Design,
    folder: str | Path,
    formats: Sequence[str] = (),
    *,
    prices: str | Path | None = None,
    keep_rates: str | Path | None = None,
) -> list[Path]:
    """Write a design's finished set into a folder, whole or not at all, with the user's figures in its workbook.

    Raises OutputError, and RatesError for a price book or an earlier workbook that cannot be used.
    """
    return write_billed(design, *bill(design, read_own_figures(prices, keep_rates)), folder, formats)


def write_billed(design: Design, takeoff: Takeoff, rates: Rates, folder: str | Path, formats: Sequence[str] = ()) -> list[Path]:
    """Write the finished set of a design whose bill is made. Raises OutputError."""
    from elevgen.drawing.compose import compose
    from elevgen.writers import write_set
    from elevgen.writers._package import Package

    return write_set(Package(design, takeoff, compose(design), rates), Path(folder), tuple(formats))


def try_template(design: Design, formats: Sequence[str] = ()) -> None:
    """Raise SpecError where the template of a design, which is read when it is written, cannot be used."""
    from elevgen.writers.dxf import FORMAT, template_asked_for

    if FORMAT in formats or not formats:
        template_asked_for(design.spec)


def format_names() -> tuple[str, ...]:
    """The formats there are, without loading any of them."""
    from elevgen.writers import formats

    return formats()


def default_formats() -> tuple[str, ...]:
    """The formats of a whole set: all but those written on request only."""
    from elevgen.writers import default_formats as defaults

    return defaults()


def design_file(path: str | Path, dxf: str = "") -> Design:
    """Load and design one file. `dxf` is a version of DXF to be written in place of the one it asks for."""
    spec = load(path)
    if dxf:
        moved = spec.sheet.model_copy(update={"dxf": dxf})
        spec = spec.model_copy(update={"sheet": moved})
    with faults_pointed_at(path):
        return design(spec, Path(path).stem)


@contextmanager
def faults_pointed_at(path: str | Path) -> Iterator[None]:
    """Faults found after a spec file was read are given their place in it; those of other files have theirs already."""
    try:
        yield
    except SpecError as error:
        if error.source:
            raise
        text = Path(path).read_text(encoding="utf-8-sig")
        raise SpecError(pointed_at(error.faults, text), str(path)) from None
