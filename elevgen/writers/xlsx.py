"""The workbook: summary, bill, measurement, order list, call-off, schedules, findings, basis and inputs."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

from elevgen.core.errors import OutputError
from elevgen.result import Design
from elevgen.takeoff.model import Takeoff
from elevgen.takeoff.rates import Rates
from elevgen.takeoff.standing import to_build
from elevgen.writers._package import Package
from elevgen.writers._xlsx_bill import bill
from elevgen.writers._xlsx_book import workbook_bytes
from elevgen.writers._xlsx_calloff import call_off
from elevgen.writers._xlsx_measurement import measurement
from elevgen.writers._xlsx_model import Sheet
from elevgen.writers._xlsx_orders import order_list
from elevgen.writers._xlsx_places import lifts_and_panels
from elevgen.writers._xlsx_rates import rates_sheet
from elevgen.writers._xlsx_records import basis, findings, inputs
from elevgen.writers._xlsx_reinforcement import reinforcement
from elevgen.writers._xlsx_schedules import damp_proofing, joints, lintels, ties
from elevgen.writers._xlsx_summary import summary
from elevgen.writers._xlsx_text import TextTooLongError
from elevgen.writers._xlsx_units import units_and_cuts

FORMAT = "xlsx"
NO_DATE = datetime(1980, 1, 1)
NO_RATES = Rates()


def render(package: Package) -> dict[str, bytes]:
    """The workbook. Raises OutputError for text that no cell can hold."""
    design = package.design
    name = f"{design.name}.xlsx"
    try:
        content = workbook_bytes(sheets(design, package.takeoff, package.rates), design.spec.project.title, _created(design))
    except TextTooLongError as error:
        raise OutputError(Path(name), str(error)) from error
    return {name: content}


def sheets(design: Design, takeoff: Takeoff, rates: Rates = NO_RATES) -> tuple[Sheet, ...]:
    """Every sheet, in the order of the tabs."""
    takeoff = takeoff.for_people
    return (
        summary(design, takeoff, rates),
        bill(design, takeoff, rates),
        measurement(takeoff),
        order_list(takeoff, rates),
        call_off(takeoff),
        lifts_and_panels(takeoff),
        joints(design),
        reinforcement(design),
        lintels(design),
        ties(design),
        damp_proofing(design),
        units_and_cuts(to_build(design)),
        findings(design),
        basis(design, takeoff),
        *((rates_sheet(rates),) if rates.told else ()),
        inputs(design),
    )


def _created(design: Design) -> datetime:
    """The project's date, never the clock. A date the calendar does not have counts as none."""
    try:
        return datetime.fromisoformat(design.spec.project.date)
    except ValueError:
        return NO_DATE
