"""What lintels carry is measured again, and said to be for the engineer or the maker's table."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from elevgen.building.model import Leaf
from elevgen.checks._finding import BUILDING, Place, at_fitting, at_leaf, found
from elevgen.checks._load_measures import STEM, LeafMeasures, Measured
from elevgen.checks._masonry import joints_by_leaf
from elevgen.checks._rules import rule, uncovered
from elevgen.checks._words import counted, listed
from elevgen.core.figures import Figures
from elevgen.core.sourced import Sourced
from elevgen.fittings.load_model import LintelLoad, LoadMethod, LoadReading
from elevgen.fittings.model import Lintel
from elevgen.joints.model import MovementJoint
from elevgen.result import Design, Finding
from elevgen.rules.keys import KEYS

CODE = "lintel-load"
TITLE = "What lintels carry"
RATIONALE = (
    "Masonry arches over an opening only where nothing cuts it: a joint or a hole over a lintel brings all the wall down on it, "
    "and one chosen for less sags and cracks what it carries."
)
SHARE, LEAST = 0.02, 0.005
"""How far two reckonings may differ: of what is measured, and in kN or kNm."""

TRIANGLE = tuple(f"{STEM}.{name}" for name in ("triangle.", "zone.", "spread.", "span.", "storeys."))
ARCHING = *TRIANGLE, f"{STEM}.side.", f"{STEM}.arching."
NAMED = 3
"""How many lintels one line names."""


def check(design: Design) -> Iterator[Finding]:
    """Every load measured again by areas, its reactions and moment balanced; what counts where nothing arches; one note for all.

    Per leaf: a failure for each figure that does not agree, a warning where an opening or a movement joint stands in the load
    triangle, a note where a lintel goes on over piers.
    """
    lintels = {lintel.id: lintel for lintel in design.fittings.lintels}
    loads = tuple(load for load in design.fittings.lintel_loads if load.lintel in lintels)
    for name in sorted(lintels.keys() - {load.lintel for load in loads}):
        yield found("fail", at_fitting(lintels[name]), "what it carries has not been reckoned")
    if not loads:
        if not lintels:
            yield found("pass", BUILDING, "no lintels to carry anything")
        return
    joints = joints_by_leaf(design)
    for leaf in design.building.leaves:
        on_leaf = tuple(load for load in loads if load.leaf == leaf.id)
        if on_leaf:
            yield from _leaf(design, leaf, on_leaf, joints[leaf.id])
    yield from _all(design, loads)


def _leaf(design: Design, leaf: Leaf, loads: tuple[LintelLoad, ...], joints: tuple[MovementJoint, ...]) -> Iterator[Finding]:
    measures = LeafMeasures(design, design.building.wall(leaf.wall), leaf, loads)
    wrong = [(load, words) for load in loads for words in _wrong(measures, load, joints)]
    for load, words in wrong:
        yield found("fail", at_fitting(_lintel(design, load)), words)
    yield from _cut(design, leaf, measures, loads, joints)
    yield from _over_piers(design.figures, leaf, loads)
    yield from _one_storey(design, leaf, loads)
    if not wrong and any(load.used for load in loads):
        text = f"{counted(len(loads), 'load')} of lintels measured again, reactions balanced"
        yield found("pass", at_leaf(leaf), text, also=_arching(design))


def _wrong(measures: LeafMeasures, load: LintelLoad, joints: tuple[MovementJoint, ...]) -> Iterator[str]:
    """What does not agree with the load as measured again, and a triangle used where it does not hold."""
    for reading in load.readings:
        yield from _differing(measures.design.figures, reading, measures.measured(load, reading.method))
    used = load.used
    if used is None or used.method == "full":
        return
    opening, cutting = measures.hit(load, joints, used.method)
    if opening or cutting or not measures.fits(load, used.method):
        yield "reckoned as if the masonry over it arched, which is cut or too low for that"


def _differing(figures: Figures, reading: LoadReading, again: Measured) -> Iterator[str]:
    pairs = (
        ("masonry", reading.masonry, again.masonry, "kN"),
        ("loads from the spec", reading.imposed, again.imposed, "kN"),
        ("what lintels over it set down", reading.brought, again.brought, "kN"),
        ("reaction at its left end", reading.reaction_start, again.reaction_start, "kN"),
        ("reaction at its right end", reading.reaction_end, again.reaction_end, "kN"),
        ("reactions together", reading.reaction_start + reading.reaction_end, reading.total, "kN"),
        ("greatest moment", reading.moment, again.moment, "kNm"),
    )
    for name, said, measured, unit in pairs:
        if abs(said - measured) > SHARE * abs(measured) + LEAST:
            known, again_known = (figures.amount(x, unit) for x in (said, measured))
            yield f"{name} reckoned as {known}, measured again {again_known.split()[0]}"


def _cut(
    design: Design, leaf: Leaf, measures: LeafMeasures, loads: tuple[LintelLoad, ...], joints: tuple[MovementJoint, ...]
) -> Iterator[Finding]:
    """One warning a leaf: lintels that carry the full load because something stands in the triangle over them."""
    triangle, arching = (rule(design, f"{STEM}.{name}") for name in ("triangle.base", "arching.angle"))
    method: LoadMethod = "load_triangle" if triangle else "arching"
    source, called = (triangle, "load triangle") if triangle else (arching, "triangle under which masonry arches")
    if source is None:
        return
    cut: list[tuple[LintelLoad, LoadReading]] = []
    stands: list[str] = []
    named: dict[str, None] = {}
    for load in loads:
        opening, cutting = measures.hit(load, joints, method)
        if load.used is not None and load.used.method == "full" and (opening or cutting):
            cut.append((load, load.used))
            stands += ["an opening"] * opening + ["a movement joint"] * bool(cutting)
            named |= dict.fromkeys(joint.id for joint in cutting)
    if not cut:
        return
    place = Place(
        leaf.id,
        (leaf.wall,),
        (leaf.id,),
        tuple(dict.fromkeys(o for load, _ in cut for o in _lintel(design, load).openings)),
        tuple(named),
    )
    said = listed([f"{_short(load)} {design.figures.amount(reading.per_metre, 'kN/m', 1)}" for load, reading in cut])
    if len(cut) > NAMED:
        hardest, most = max(cut, key=lambda pair: pair[1].per_metre)
        said = f"the hardest {_short(hardest)}, {design.figures.amount(most.per_metre, 'kN/m', 1)}"
    what = listed(sorted(set(stands), reverse=True))
    text = f"{what} in the {called} over {counted(len(cut), 'lintel')}: nothing arches, all above is carried ({said})"
    yield found("warn", place, text, source=source, also=_arching(design))


def _arching(design: Design) -> tuple[Sourced, ...]:
    """What says of how much masonry a lintel carries the load."""
    return tuple(design.rules.values[key] for key in sorted(design.rules.values) if key.startswith(ARCHING))


def _over_piers(figures: Figures, leaf: Leaf, loads: tuple[LintelLoad, ...]) -> Iterator[Finding]:
    """One note a leaf: lintels that go on over piers, and what each pier is pressed with."""
    said = []
    for a, b in pairwise(loads):
        if a.lintel == b.lintel and a.used and b.used:
            pier = a.used.reaction_end + b.used.reaction_start
            said.append(f"{_short(a)} sets {figures.amount(pier, 'kN', 1)} on the pier at {figures.run(a.supports.end)}")
    if said:
        text = f"{'; '.join(said)}: reckoned as if cut there; an engineer must say what one that goes on does"
        yield found("note", at_leaf(leaf), text)


def _one_storey(design: Design, leaf: Leaf, loads: tuple[LintelLoad, ...]) -> Iterator[Finding]:
    """One note a leaf: spans that the load triangle reaches over in a building of one storey only."""
    most = rule(design, f"{STEM}.span.more_storeys")
    if most is None:
        return
    long = [x for x in loads if x.storeys == 1 and x.used and x.used.method == "load_triangle" and x.clear.length > most.number]
    if long:
        widest = max(x.clear.length for x in long)
        text = (
            f"{listed([_short(x) for x in long])}: the load triangle reaches over {design.figures.run(widest)} "
            "in one storey only, and no opening here is a storey higher; with more storeys all above is carried"
        )
        yield found("note", at_leaf(leaf), text, measured=widest, most=most.number, source=most)


def _all(design: Design, loads: tuple[LintelLoad, ...]) -> Iterator[Finding]:
    """One note for the building, and what could not be reckoned."""
    known = [(load, load.used) for load in loads if load.used is not None]
    for key in dict.fromkeys(key for load in loads for key in load.lacking):
        yield uncovered(design, BUILDING, key)
    for key in _missing(design)[:1]:
        yield uncovered(design, BUILDING, key)
    if known:
        most, reading = max(known, key=lambda pair: pair[1].per_metre)
        whole = sum(1 for _, r in known if r.method == "full")
        text = (
            f"loads reckoned for {counted(len({load.lintel for load, _ in known}), 'lintel')}, "
            f"{whole} with all that is above; the greatest "
            f"{design.figures.amount(reading.per_metre, 'kN/m', 1)}, "
            f"{design.figures.amount(reading.total, 'kN', 1)} in all "
            f"({most.lintel}). For the engineer or the maker's load table, not an approval; "
            f"on top come {listed(most.not_included)}"
        )
        yield found("note", BUILDING, text)


def _missing(design: Design) -> list[str]:
    """The rules lacking; those of the load triangle are not where a country has none of them and goes by arching."""
    lacking = [key for key in KEYS if key.startswith(STEM) and rule(design, key) is None]
    others = [key for key in lacking if not key.startswith(TRIANGLE)]
    return others if len(lacking) - len(others) == sum(key.startswith(TRIANGLE) for key in KEYS) else lacking


def _short(load: LintelLoad) -> str:
    return load.lintel.removeprefix(f"{load.leaf}/")


def _lintel(design: Design, load: LintelLoad) -> Lintel:
    return next(lintel for lintel in design.fittings.lintels if lintel.id == load.lintel)
