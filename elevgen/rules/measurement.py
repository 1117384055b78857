"""How quantities are measured: the values of a preset, and what a user puts in their place.

No preset is a method of measurement: what is measured by one is said to be measured by rule set `<id>`, never to the
document its values are taken after. A value a preset leaves out is not known.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from math import floor
from types import MappingProxyType
from typing import Literal, NamedTuple, get_args

from elevgen.core.figures import METRIC, Figures
from elevgen.core.sourced import GIVEN, STATUS_WORDS, Sourced, Value
from elevgen.core.units import METRIC_OF

WallLine = Literal["face", "centre_line"]
WallUnit = Literal["m2", "m3"]
ColumnOrder = Literal["qty-unit", "unit-qty"]
YES_NO = ("yes", "no")
AT_LEAST_ONE = 1.0
CUSTOMARY_STEP = 0.01
"""What quantities in customary units are rounded to where a preset rounds metric ones; a decision of ours, no source."""
NOT_KNOWN = "not known"


class Field(NamedTuple):
    """One parameter of the presets: its unit, what it may be (choices, or numbers), and what it is called in a sentence."""

    unit: str
    kind: Literal["number", "yes or no", "word", "sizes"]
    words: str
    choices: tuple[str, ...] = ()


FIELDS: Mapping[str, Field] = MappingProxyType(
    {
        "opening_min_area_m2": Field("m2", "number", "Openings not deducted, up to and with"),
        "flue_min_area_m2": Field("m2", "number", "Flues not deducted, up to and with"),
        "boundary_openings_always": Field("", "yes or no", "Openings at the edge of a wall always deducted"),
        "dim_round_mm": Field("mm", "number", "Length and height of areas rounded to"),
        "qty_round": Field("", "number", "Quantities of the bill rounded to"),
        "qty_round_m": Field("m", "number", "Quantities in m rounded to"),
        "qty_round_m2": Field("m2", "number", "Quantities in m2 rounded to"),
        "qty_round_m3": Field("m3", "number", "Quantities in m3 rounded to"),
        "keep_at_least_one": Field("", "yes or no", "What rounding would take to nothing kept as 1"),
        "wall_measured_on": Field("", "word", "Walling measured along", get_args(WallLine)),
        "wall_unit": Field("", "word", "Walling measured in", get_args(WallUnit)),
        "half_brick_most_mm": Field("mm", "number", "A half-brick wall is no thicker than"),
        "thickness_bands_mm": Field("mm", "sizes", "Walling told apart by thickness, up to and with"),
        "column_order": Field("", "word", "Columns of the bill in order", get_args(ColumnOrder)),
    }
)
"""Every parameter a preset may have, in the order they are shown."""

_IN_WORDS = MappingProxyType(
    {
        "face": "the face of each leaf",
        "centre_line": "the centre line of each leaf",
        "m3": "m3, half-brick walls in m2",
        "qty-unit": "quantity, then unit",
        "unit-qty": "unit, then quantity",
    }
)


class Parameter(NamedTuple):
    """One line for people: the parameter, its value, how that is known, and its source (None: the user's own, or not known)."""

    name: str
    words: str
    value: str
    known: str
    source: Sourced | None


@dataclass(frozen=True, slots=True)
class MeasurementRules:
    """A preset of `measurement/` with what the user gives in place of its values. Areas m2, lengths mm.

    For the sheets: `words()` says by what the bill is measured, `parameters()` lists every value and its status, `column_order`
    is that of the bill's columns, `billed()` is the figure of the bill for the sum of its places.
    """

    id: str = "net"
    title: str = ""
    values: Mapping[str, Sourced] = field(default_factory=dict)
    given: Mapping[str, Value] = field(default_factory=dict)

    @property
    def opening_limit(self) -> float:
        """Openings up to and with this (m2) are not deducted; 0, as where it is not known: every one is."""
        return self._number("opening_min_area_m2") or 0.0

    @property
    def at_edge_always(self) -> bool | None:
        """Whether openings at the edge of the measured area are deducted whatever their size; None: not known."""
        return _yes(self.value("boundary_openings_always"))

    @property
    def dimension_step(self) -> float | None:
        """What lengths and heights of areas are rounded to (mm); None: they are not rounded."""
        return self._number("dim_round_mm") or None

    @property
    def on_centre_line(self) -> bool:
        """Whether walling is measured along the centre line of each leaf; else, as where it is not known, along its face."""
        return self.value("wall_measured_on") == "centre_line"

    @property
    def keeps_one(self) -> bool:
        """Whether a quantity of the bill that rounding would take to nothing is 1."""
        return _yes(self.value("keep_at_least_one")) is True

    @property
    def column_order(self) -> ColumnOrder:
        """The order of the bill's columns; quantity and then unit where it is not known."""
        return "unit-qty" if self.value("column_order") == "unit-qty" else "qty-unit"

    @property
    def unit_first(self) -> bool:
        """Whether the unit stands before the quantity."""
        return self.column_order == "unit-qty"

    @property
    def used(self) -> tuple[Sourced, ...]:
        """The values of the preset that were applied, by key: flues are not drawn, and the user's figures have no source."""
        return tuple(self.values[name] for name in sorted(self.values) if name not in self.given and name != "flue_min_area_m2")

    def value(self, name: str) -> Value | None:
        """The user's figure, else the preset's; None where it is not known."""
        if name in self.given:
            return self.given[name]
        return self.values[name].value if name in self.values else None

    def in_cubic_metres(self, thickness: float) -> bool:
        """Whether walling this thick (mm) is billed by volume."""
        most = self._number("half_brick_most_mm")
        return self.value("wall_unit") == "m3" and (most is None or thickness > most)

    def band(self, thickness: float, figures: Figures = METRIC) -> str:
        """The band a thickness (mm) lies in, in words: `over 150 mm, up to 250 mm thick`; empty where there are no bands."""
        ends = self.value("thickness_bands_mm")
        if not isinstance(ends, tuple):
            return ""
        steps = [float(end) for end in ends if isinstance(end, int | float)]
        under = next((end for end in steps if thickness <= end), None)
        over = next((end for end in reversed(steps) if thickness > end), None)
        above = "" if over is None else f"over {figures.measure(over)}"
        upto = figures.measure(thickness) if under is None else f"up to {figures.measure(under)}"
        return f"{', '.join(part for part in (above, upto) if part)} thick"

    def step(self, unit: str) -> float | None:
        """What a quantity of the bill in this unit is rounded to; None: it is not rounded.

        A customary unit is rounded to a hundredth wherever the metric one is rounded: presets say nothing of feet.
        """
        if unit in METRIC_OF:
            return None if self.step(METRIC_OF[unit]) is None else CUSTOMARY_STEP
        names = (f"qty_round_{unit}", "qty_round")
        known = [self.given[name] for name in names if name in self.given]
        known += [self.values[name].value for name in names if name in self.values]
        return float(known[0]) or None if known and isinstance(known[0], int | float) else None

    def billed(self, total: float, unit: str) -> float:
        """The figure of the bill for the sum of an item's places: halves upwards, what would vanish kept as 1 where so ruled."""
        step = self.step(unit)
        if step is None:
            return total
        shown = half_up(total, step)
        if shown == 0 and total > 0 and self.keeps_one:
            return AT_LEAST_ONE
        return shown

    def words(self) -> str:
        """By what a bill is measured, for its head: never more than the rule set's own name."""
        said = f"Measured by rule set {self.id}"
        if self.given:
            own = ", ".join(FIELDS[name].words.lower() for name in FIELDS if name in self.given)
            said += f", with figures given in the spec ({own})"
        said += ": no published method of measurement is followed."
        if any(value.status == "memory" for value in self.used):
            said += " Preset from memory, check your copy."
        elif any(value.status == "quoted" for value in self.used):
            said += " Preset quoted by others, check your copy."
        return said

    def parameters(self, figures: Figures = METRIC) -> tuple[Parameter, ...]:
        """Every parameter, known or not, in the order of FIELDS; finer steps of rounding only where there are some."""
        rows = []
        for name, about in FIELDS.items():
            value, source = self.value(name), self.values.get(name) if name not in self.given else None
            if value is None and name in _ONLY_WHERE_GIVEN:
                continue
            known = GIVEN if name in self.given else STATUS_WORDS[source.status] if source else NOT_KNOWN
            rows.append(Parameter(name, about.words, value_words(name, value, figures), known, source))
        return tuple(rows)

    def _number(self, name: str) -> float | None:
        value = self.value(name)
        return float(value) if isinstance(value, int | float) else None


_ONLY_WHERE_GIVEN = ("qty_round_m", "qty_round_m2", "qty_round_m3", "half_brick_most_mm", "thickness_bands_mm")


def half_up(value: float, step: float) -> float:
    """The nearest multiple of a step, a half upwards, whatever dust a float carries."""
    return round(floor(round(value / step, 6) + 0.5) * step, 9)


def value_words(name: str, value: Value | None, figures: Figures = METRIC) -> str:
    """A parameter's value for people: `0.5 m2`, `no rounding`, `the centre line of each leaf`."""
    if value is None:
        return NOT_KNOWN
    unit = FIELDS[name].unit
    if isinstance(value, str):
        return _IN_WORDS.get(value) or figures.unit(value).name
    if isinstance(value, tuple):
        sizes = [item for item in value if isinstance(item, int | float)]
        return ", ".join((*(figures.few(x, unit, 15).split()[0] for x in sizes[:-1]), figures.few(sizes[-1], unit, 15)))
    if not value and ("round" in name):
        return "nothing, they are not rounded"
    if not value and name == "opening_min_area_m2":
        return "none, every opening is deducted"
    return figures.few(value, unit).strip()


def _yes(value: Value | None) -> bool | None:
    return None if value is None else value == "yes"


def _shown(number: float) -> str:
    return f"{number:.15g}"
