"""Sheets that list what is built: joints, reinforcement, lintels, ties, damp-proofing, units and cuts. Lengths mm."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from elevgen.core.measures import millimetres
from elevgen.coursing.model import LeafCoursing, Pattern
from elevgen.fittings.model import TieKind
from elevgen.result import Design
from elevgen.writers._xlsx_model import Block, Column, Sheet, Value, yes
from elevgen.writers._xlsx_words import keys

METRE = 1000.0
NOT_KNOWN = "not calculated"
Row = tuple[Value, ...]
TIE_COLUMNS: tuple[tuple[TieKind, str], ...] = (
    ("field", "General"),
    ("reveal", "At openings"),
    ("joint", "Beside joints"),
    ("verge", "Verges and tops"),
    ("partition", "Internal walls"),
)


def joints(design: Design) -> Sheet:
    """Every movement joint, what fills it, the proof per run, and the panels that result."""
    columns = (
        Column("Joint", 16),
        Column("Leaf", 14),
        Column("At", 10, "mm"),
        Column("From level m", 10, "level"),
        Column("To level m", 10, "level"),
        Column("Length m", 9, "area"),
        Column("Width built", 9, "mm"),
        Column("Width by rule of thumb", 14, "mm"),
        Column("Width by movement", 14, "mm"),
        Column("As given", 8),
        Column("Why here", 40, "wrap"),
        Column("Rule keys", 40, "line"),
    )
    rows = tuple(
        (
            *(joint.id, joint.leaf, joint.at, joint.levels.start / METRE, joint.levels.end / METRE, joint.levels.length / METRE),
            *(joint.width.built, _or_not(joint.width.rule_of_thumb), _or_not(joint.width.calculated), yes(joint.given)),
            *(joint.reason, keys(joint.basis)),
        )
        for joint in design.plan.joints
    )
    purpose = "Centre of each joint along the wall line from the wall's start, seen from outside. Full height, through finishes."
    return Sheet(
        "Joints",
        purpose,
        (Block("Movement joints", columns, rows), _parts(design), _proof(design), _relaxed(design), _panels(design)),
    )


def _parts(design: Design) -> Block:
    columns = (
        Column("Joint", 16),
        Column("Filler width", 14, "mm"),
        Column("Filler depth", 10, "mm"),
        Column("Sealant width", 10, "mm"),
        Column("Sealant depth", 10, "mm"),
        Column("Faces sealed", 9, "nr"),
        Column("Sealant litres", 9, "amount"),
        Column("Backer rod diameter", 14, "mm"),
        Column("Slip ties", 14, "nr"),
    )
    rows = tuple(
        (
            *(part.joint, part.filler_width, part.filler_depth, part.sealant_width, part.sealant_depth, part.sealant_faces),
            *(round(part.sealant_litres, 4), _or_not(part.backer_diameter), part.slip_ties),
        )
        for part in design.fittings.joint_parts
    )
    return Block("What fills each joint", columns, rows)


def _or_not(number: float | None) -> Value:
    return NOT_KNOWN if number is None else number


def _proof(design: Design) -> Block:
    columns = (Column("Run", 16), Column("Joints", 14, "nr"), Column("At least", 10, "nr"), Column("Proven fewest", 10))
    rows = tuple((p.run, len(p.joints), p.lower_bound, yes(p.optimal)) for p in design.plan.placements)
    return Block("Proof for each run of connected masonry", columns, rows)


def _relaxed(design: Design) -> Block:
    columns = (
        Column("Run", 16),
        Column("Where", 14),
        Column("Measured", 10, "mm"),
        Column("Limit", 10, "mm"),
        Column("Rule", 10, "line"),
    )
    rows = tuple((p.run, r.where, r.measured, r.limit, r.rule) for p in design.plan.placements for r in p.relaxed)
    return Block("Rules no placement could keep", columns, rows)


def _panels(design: Design) -> Block:
    columns = (
        Column("Panel", 16),
        Column("Leaf", 14),
        Column("From", 10, "mm"),
        Column("To", 10, "mm"),
        Column("Length", 10, "mm"),
        Column("Height", 9, "mm"),
        Column("Length to height", 8, "area"),
    )
    rows = tuple((p.id, p.leaf, p.span.start, p.span.end, p.span.length, p.height, p.ratio) for p in design.plan.panels)
    return Block("Panels between joints, corners and ends", columns, rows)


def reinforcement(design: Design) -> Sheet:
    """Every length of bed-joint reinforcement, and how many pieces of each length to cut."""
    columns = (
        Column("Length", 16),
        Column("Leaf", 14),
        Column("On course", 8, "nr"),
        Column("Level m", 10, "level"),
        Column("From", 10, "mm"),
        Column("To", 10, "mm"),
        Column("Net m", 9, "amount"),
        Column("Laps", 6, "nr"),
        Column("Lap", 8, "mm"),
        Column("With laps m", 10, "amount"),
        Column("Pieces", 30, "wrap"),
        Column("Serves", 20, "wrap"),
        Column("Rule keys", 44, "line"),
    )
    rows = tuple(
        (
            *(
                bed.id,
                bed.leaf,
                bed.course,
                bed.level / METRE,
                bed.span.start,
                bed.span.end,
                bed.span.length / METRE,
                bed.laps,
                bed.lap,
            ),
            *(
                bed.with_laps / METRE,
                " + ".join(millimetres(piece) for piece in bed.pieces),
                ", ".join(bed.serves),
                keys(bed.basis),
            ),
        )
        for bed in design.fittings.bed_reinforcement
    )
    cuts = Counter(round(piece, 1) for bed in design.fittings.bed_reinforcement for piece in bed.pieces)
    cutting = Block(
        "Pieces to cut", (Column("Length mm", 16, "mm"), Column("Number", 14, "nr")), tuple(sorted(cuts.items(), reverse=True))
    )
    purpose = "In the bed on top of the course named; never through a movement joint."
    return Sheet("Reinforcement", purpose, (Block("Lengths as fixed", columns, rows), cutting))


def lintels(design: Design) -> Sheet:
    """Every lintel with its bearings."""
    columns = (
        Column("Lintel", 18),
        Column("Leaf", 14),
        Column("Over", 20, "wrap"),
        Column("Underside level m", 10, "level"),
        Column("From", 10, "mm"),
        Column("To", 10, "mm"),
        Column("Clear span", 10, "mm"),
        Column("Bearing, start", 10, "mm"),
        Column("Bearing, end", 10, "mm"),
        Column("Length", 10, "mm"),
        Column("Depth", 14, "mm"),
        Column("Rule keys", 44, "line"),
    )
    rows = tuple(
        (
            *(x.id, x.leaf, ", ".join(x.openings), x.level / METRE, x.span.start, x.span.end, x.clear.length),
            *(x.bearing_start, x.bearing_end, x.length, _or_not(x.depth), keys(x.basis)),
        )
        for x in design.fittings.lintels
    )
    purpose = "Length and bearings only. The section of every lintel is for a qualified engineer or the maker's load tables."
    return Sheet("Lintels", purpose, (Block("Lintels", columns, rows),))


def ties(design: Design) -> Sheet:
    """Wall ties by wall and place, slip ties by joint."""
    columns = (
        Column("Wall", 14),
        Column("Tie length", 16, "mm"),
        *(Column(words, 12, "nr") for _, words in TIE_COLUMNS),
        Column("All wall ties", 10, "nr"),
        Column("Beds of both leaves meet", 12),
        Column("Rule keys", 44, "line"),
    )
    rows = tuple(
        (
            wall.wall,
            "not covered" if wall.length is None else wall.length,
            *(wall.count(kind) for kind, _ in TIE_COLUMNS),
            wall.count(*(kind for kind, _ in TIE_COLUMNS)),
            yes(wall.beds_meet),
            keys(wall.basis),
        )
        for wall in design.fittings.ties
    )
    slips = tuple((part.joint, part.slip_ties) for part in design.fittings.joint_parts if part.slip_ties)
    blocks = (
        Block("Wall ties, by wall", columns, rows),
        Block("Slip ties across movement joints", (Column("Joint", 14), Column("Number", 16, "nr")), slips),
    )
    return Sheet("Ties", "Counted as placed: staggered grid, and extra ties at edges.", blocks)


def damp_proofing(design: Design) -> Sheet:
    """Damp-proof courses and cavity trays."""
    courses = (
        Column("Damp-proof course", 20),
        Column("Leaf", 14),
        Column("Level m", 10, "level"),
        Column("From", 10, "mm"),
        Column("To", 10, "mm"),
        Column("Net m", 9, "amount"),
        Column("Width", 9, "mm"),
        Column("Laps", 7, "nr"),
        Column("Lap", 14, "mm"),
        Column("Rule keys", 44, "line"),
    )
    course_rows = tuple(
        (
            *(d.id, d.leaf, d.level / METRE, d.span.start, d.span.end, d.span.length / METRE, d.width, d.laps),
            *("not covered" if d.lap is None else d.lap, keys(d.basis)),
        )
        for d in design.fittings.damp_courses
    )
    trays = (
        Column("Tray", 20),
        Column("Over opening", 14),
        Column("Level m", 10, "level"),
        Column("From", 10, "mm"),
        Column("To", 10, "mm"),
        Column("Length m", 9, "amount"),
        Column("Stop ends", 9, "nr"),
        Column("Weeps", 7, "nr"),
        Column("Weeps at", 14, "wrap"),
        Column("Rule keys", 44, "line"),
    )
    tray_rows = tuple(
        (
            *(t.id, t.opening, t.level / METRE, t.span.start, t.span.end, t.span.length / METRE, t.stop_ends, len(t.weeps)),
            *(", ".join(millimetres(at) for at in t.weeps), keys(t.basis)),
        )
        for t in design.fittings.trays
    )
    blocks = (Block("Damp-proof courses", courses, course_rows), Block("Cavity trays", trays, tray_rows))
    return Sheet("Damp-proofing", "Lengths as laid; laps are extra and are in the order list.", blocks)


def units_and_cuts(design: Design) -> Sheet:
    """Units by leaf, the cut sizes, and the levels that land on no course."""
    columns = (
        Column("Leaf", 24),
        Column("Unit", 24),
        Column("Whole", 10, "nr"),
        Column("Cut", 10, "nr"),
        Column("To lay", 10, "nr"),
    )
    rows = tuple(
        (laid.leaf, count.unit, count.full, count.cut, count.full + count.cut)
        for laid in design.coursing.leaves
        for count in laid.counts
    )
    blocks = (Block("Units by leaf", columns, rows), _cut_sizes(design), _misfits(design))
    return Sheet(
        "Units and cuts",
        "Each cut piece is taken out of one whole unit. A cut length is what is really laid, hidden ends included.",
        blocks,
    )


def _cut_sizes(design: Design) -> Block:
    patterns = {pattern.id: pattern for pattern in design.coursing.patterns}
    sizes: Counter[tuple[str, float, float]] = Counter()
    rakes: Counter[str] = Counter()
    for laid in design.coursing.leaves:
        rakes.update(rake.unit for rake in laid.rakes)
        for pattern, times in _uses(laid).items():
            for size in _cuts(patterns[pattern]):
                sizes[size] += times
    columns = (
        Column("Unit", 24),
        Column("Cut", 24),
        Column("Length", 10, "mm"),
        Column("Height", 10, "mm"),
        Column("Number", 10, "nr"),
    )
    rows: list[Row] = [(unit, "to a size", length, height, number) for (unit, length, height), number in sorted(sizes.items())]
    rows += [(unit, "to a slope", None, None, number) for unit, number in sorted(rakes.items())]
    return Block("Cut sizes", columns, tuple(rows))


def _uses(laid: LeafCoursing) -> Counter[str]:
    return Counter(placement.pattern for placement in laid.placements)


def _cuts(pattern: Pattern) -> Iterator[tuple[str, float, float]]:
    last = len(pattern.pieces) - 1
    for index, piece in enumerate(pattern.pieces):
        if piece.kind == "cut" or (pattern.split and piece.kind == "full"):
            hidden = (pattern.hidden[0] if index == 0 else 0.0) + (pattern.hidden[1] if index == last else 0.0)
            yield pattern.unit, round(piece.length + hidden, 1), round(pattern.height, 1)


def _misfits(design: Design) -> Block:
    columns = (
        Column("Leaf", 24),
        Column("What", 24, "wrap"),
        Column("Level m", 10, "level"),
        Column("Nearest below", 10, "level"),
        Column("Nearest above", 10, "level"),
    )
    rows = tuple(
        (laid.leaf, m.what, m.level / METRE, m.down / METRE, m.up / METRE)
        for laid in design.coursing.leaves
        for m in laid.misfits
    )
    return Block("Levels that land on no course", columns, rows)
