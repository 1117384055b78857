"""Sheets that list what is built: joints, reinforcement, lintels, ties, damp-proofing. Lengths mm."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from elevgen.core.measures import METRE
from elevgen.fittings.filler_words import filler_words
from elevgen.fittings.lintel_words import LINTEL_WORDS
from elevgen.fittings.model import (
    DampCourse,
    JointParts,
    Lintel,
    Mesh,
    Tie,
    TieKind,
    TiePanel,
    Tray,
    WallTies,
)
from elevgen.joints.model import MovementJoint, Panel, Relaxed, Remedy, RunPlacement
from elevgen.result import Design
from elevgen.rules.telling import meaning_of
from elevgen.writers._xlsx_lintel_loads import load_tables
from elevgen.writers._xlsx_model import Block, Field, Fields, Sheet, Value, Words, joined, notes, table, yes
from elevgen.writers._xlsx_widths import width_rules, width_tables

NOT_KNOWN, NOT_COVERED, NOT_ASKED, NOT_CHOSEN = "not calculated", "not covered", "not said", "not chosen"
TIE_COLUMNS: tuple[tuple[TieKind, str], ...] = (
    ("field", "General"),
    ("reveal", "At openings"),
    ("joint", "Beside joints"),
    ("end", "At ends and steps"),
    ("verge", "Verges and tops"),
    ("partition", "Internal walls"),
)
WALL_TIES = tuple(kind for kind, _ in TIE_COLUMNS)
_KIND_WORDS: dict[TieKind, str] = {**dict(TIE_COLUMNS), "slip": "Slip ties"}


JOINTS: Fields[MovementJoint] = (
    Field("Joint", 16, "text", lambda j: j.id),
    Field("Leaf", 14, "text", lambda j: j.leaf),
    Field("At", 10, "mm", lambda j: j.at),
    Field("From level m", 10, "level", lambda j: j.levels.start / METRE),
    Field("To level m", 10, "level", lambda j: j.levels.end / METRE),
    Field("Length m", 9, "area", lambda j: j.levels.length / METRE, "m"),
    Field("Width built", 9, "mm", lambda j: j.width.built),
    Field("Width by rule of thumb", 14, "mm", lambda j: _or(NOT_KNOWN, j.width.rule_of_thumb)),
    Field("Width by movement", 14, "mm", lambda j: _or(NOT_KNOWN, j.width.calculated)),
    Field("As given", 8, "text", lambda j: yes(j.given)),
    Field("Why here", 40, "wrap", lambda j: j.reason),
    Field("Why not elsewhere", 30, "wrap", lambda j: "; ".join(other.why for other in j.rejected)),
)
PARTS: Fields[JointParts] = (
    Field("Joint", 16, "text", lambda p: p.joint),
    Field("Filler width", 14, "mm", lambda p: p.filler_width),
    Field("Filler depth", 10, "mm", lambda p: p.filler_depth),
    Field("Sealant width", 10, "mm", lambda p: p.sealant_width),
    Field("Sealant depth", 10, "mm", lambda p: p.sealant_depth),
    Field("Faces sealed", 9, "nr", lambda p: p.sealant_faces),
    Field("Sealant litres", 9, "amount", lambda p: round(p.sealant_litres, 4), "l", "litres"),
    Field("Backer rod diameter", 14, "mm", lambda p: _or(_no_rod(p), p.backer_diameter)),
    Field("Slip ties", 14, "nr", lambda p: _or(NOT_ASKED, p.slip_ties)),
    Field("Sealant ml a metre", 8, "tenth", lambda p: p.sealant_per_metre, "ml/m", "ml a metre"),
    Field("Filled with", 40, "wrap", lambda p: Words(lambda figures: filler_words(figures, p))),
    Field("Stop beads in the finish m", 14, "amount", lambda p: p.stop_beads / METRE, "m"),
)
PROOFS: Fields[RunPlacement] = (
    Field("Run", 16, "text", lambda p: p.run),
    Field("Joints", 14, "nr", lambda p: len(p.joints)),
    Field("At least", 10, "nr", lambda p: p.lower_bound),
    Field("Proven fewest", 10, "text", lambda p: yes(p.optimal)),
)
RELAXED: Fields[tuple[str, Relaxed]] = (
    Field("Run", 16, "text", lambda r: r[0]),
    Field("Where", 14, "wrap", lambda r: r[1].where),
    Field("Measured", 10, "mm", lambda r: r[1].measured),
    Field("Limit", 10, "mm", lambda r: r[1].limit),
    Field("Rule", 10, "note", lambda r: r[1].rule),
)
MENDED: Fields[tuple[Relaxed, Remedy]] = (
    Field("What would mend it", 16, "wrap", lambda r: r[1].kind),
    Field("Where", 14, "wrap", lambda r: r[0].where),
    Field("That is", 10, "note", lambda r: r[1].words),
)
PANELS: Fields[Panel] = (
    Field("Panel", 16, "text", lambda p: p.id),
    Field("Leaf", 14, "text", lambda p: p.leaf),
    Field("From", 10, "mm", lambda p: p.span.start),
    Field("To", 10, "mm", lambda p: p.span.end),
    Field("Length", 10, "mm", lambda p: p.span.length),
    Field("Height", 9, "mm", lambda p: p.height),
    Field("Length to height", 9, "area", lambda p: p.ratio),
)
LINTELS: Fields[Lintel] = (
    Field("Lintel", 20, "text", lambda x: x.id),
    Field("Leaf", 14, "text", lambda x: x.leaf),
    Field("Over", 20, "wrap", lambda x: ", ".join(x.openings)),
    Field("Underside level m", 10, "level", lambda x: x.underside / METRE),
    Field("From", 10, "mm", lambda x: x.span.start),
    Field("To", 10, "mm", lambda x: x.span.end),
    Field("Clear span", 10, "mm", lambda x: max(clear.length for clear in x.clears)),
    Field("Spans", 12, "wrap", lambda x: joined(" + ", (clear.length for clear in x.clears))),
    Field("Bearing, start", 10, "mm", lambda x: x.bearing_start),
    Field("Bearing, end", 10, "mm", lambda x: x.bearing_end),
    Field("Length", 10, "mm", lambda x: x.length),
    Field("Depth", 12, "mm", lambda x: _or(NOT_CHOSEN, x.depth)),
    Field("Kind", 13, "text", lambda x: LINTEL_WORDS[x.kind] if x.kind else NOT_CHOSEN),
    Field("Mass kg", 9, "tenth", lambda x: _or("not known", x.mass), "kg"),
    Field("In place of courses", 9, "nr", lambda x: x.courses),
    Field("Given", 7, "text", lambda x: yes(x.given)),
)


TRAY_WORDS = {"opening": "", "abutment": "lower roof", "step": "lower roof, stepped"}


def _kinds(words: tuple[str, ...]) -> str:
    return ", ".join(word.replace("_", " ") for word in words)


def _count_of(kind: TieKind) -> Callable[[WallTies], Value]:
    return lambda wall: wall.count(kind)


TIES: Fields[WallTies] = (
    Field("Wall", 16, "text", lambda w: w.wall),
    Field("Tie length", 16, "mm", lambda w: _or(NOT_COVERED, w.length)),
    *(Field(words, 12, "nr", _count_of(kind)) for kind, words in TIE_COLUMNS),
    Field("All wall ties", 10, "nr", lambda w: w.count(*WALL_TIES)),
    Field("Beds of both leaves meet", 12, "text", lambda w: yes(w.beds_meet)),
)
TIE_PANELS: Fields[tuple[WallTies, TiePanel]] = (
    Field("Wall", 16, "text", lambda p: p[0].wall),
    Field("From", 16, "mm", lambda p: p[1].span.start),
    Field("To", 12, "mm", lambda p: p[1].span.end),
    Field("Masonry m2", 12, "area", lambda p: p[1].area / METRE**2, "m2"),
    Field("Ties", 12, "nr", lambda p: p[1].ties),
    Field("Ties a m2", 12, "area", lambda p: _or(NOT_KNOWN, p[1].density), "per m2", "a m2"),
    Field("Asked for, a m2", 12, "area", lambda p: _or(NOT_COVERED, p[0].required), "per m2", "a m2"),
    Field("Large enough to judge", 12, "text", lambda p: yes(p[1].judged)),
)
TIE_REASONS: Fields[tuple[WallTies, TieKind, str]] = (
    Field("Wall", 16, "text", lambda r: r[0].wall),
    Field("Ties", 16, "text", lambda r: _KIND_WORDS[r[1]]),
    Field("Number", 12, "nr", lambda r: r[0].count(r[1])),
    Field("By the rules", 12, "note", lambda r: r[2]),
)
SLIP_TIES: Fields[Tie] = (
    Field("Leaf", 16, "text", lambda t: t.leaf or ""),
    Field("At", 16, "mm", lambda t: t.at),
    Field("Level m", 12, "level", lambda t: t.level / METRE),
)
DAMP_COURSES: Fields[DampCourse] = (
    Field("Damp-proof course", 20, "text", lambda d: d.id),
    Field("Leaf", 14, "text", lambda d: d.leaf),
    Field("Level m", 10, "level", lambda d: d.level / METRE),
    Field("From", 10, "mm", lambda d: d.span.start),
    Field("To", 10, "mm", lambda d: d.span.end),
    Field("Net m", 9, "amount", lambda d: d.length / METRE, "m"),
    Field("Width", 9, "mm", lambda d: d.width),
    Field("Laps", 7, "nr", lambda d: d.laps),
    Field("Lap", 12, "mm", lambda d: _or(NOT_COVERED, d.lap)),
    Field("Place", 14, "text", lambda d: "under coping" if d.place == "coping" else "foot of wall"),
    Field(
        "Laps at corners, joints, rolls, steps", 16, "text", lambda d: "" if d.lapped is None else ", ".join(map(str, d.lapped))
    ),
    Field("Through joints", 14, "wrap", lambda d: ", ".join(d.folded)),
    Field("Not of", 14, "wrap", lambda d: _kinds(d.barred)),
    Field("As given", 8, "text", lambda d: yes(d.given)),
)
TRAYS: Fields[Tray] = (
    Field("Tray", 20, "text", lambda t: t.id),
    Field("Over", 14, "text", lambda t: ", ".join(t.openings) or t.opening or TRAY_WORDS[t.kind]),
    Field("Level m", 10, "level", lambda t: t.level / METRE),
    Field("From", 10, "mm", lambda t: t.span.start),
    Field("To", 10, "mm", lambda t: t.span.end),
    Field("Length m", 9, "amount", lambda t: t.span.length / METRE, "m"),
    Field("Stop ends", 9, "nr", lambda t: t.stop_ends),
    Field("Weeps", 7, "nr", lambda t: len(t.weeps)),
    Field("Weeps at", 30, "wrap", lambda t: joined(", ", t.weeps)),
    Field("Weeps to be cut", 14, "wrap", lambda t: joined(", ", t.cut_weeps)),
    Field("Upper edge level m", 12, "level", lambda t: None if t.upper is None else t.upper / METRE),
    Field("Sheet width", 10, "mm", lambda t: t.width),
    Field("Not of", 14, "wrap", lambda t: _kinds(t.barred)),
    Field("As given", 8, "text", lambda t: yes(t.given)),
)
MESH: Fields[Mesh] = (
    Field("Leaf", 20, "text", lambda m: m.leaf),
    Field("Opening", 14, "text", lambda m: m.opening),
    Field("Corner", 10, "text", lambda m: f"{m.side} {m.end}"),
    Field("At", 10, "mm", lambda m: m.at),
    Field("Level m", 10, "level", lambda m: m.level / METRE),
    Field("Length", 9, "mm", lambda m: m.length),
    Field("Width", 9, "mm", lambda m: m.width),
    Field("Faces", 7, "nr", lambda m: m.faces),
)


def joints(design: Design) -> Sheet:
    """Every movement joint, what fills it, the proof per run, and the panels that result."""
    placements = design.plan.placements
    return Sheet(
        "Joints",
        "Centre of each joint along the wall line from the wall's start, seen from outside. Full height, through finishes.",
        (
            table("Movement joints", JOINTS, design.plan.joints, design.figures),
            *width_tables(design.plan.joints, design.figures),
            table("What fills each joint", PARTS, design.fittings.joint_parts, design.figures),
            *(
                (table("Mesh across the corners of openings", MESH, design.fittings.mesh, design.figures),)
                if design.fittings.mesh
                else ()
            ),
            table("Proof for each run of connected masonry", PROOFS, placements, design.figures),
            table(
                "Rules no placement could keep",
                RELAXED,
                ((p.run, relaxed) for p in placements for relaxed in p.relaxed),
                design.figures,
            ),
            table(
                "What would let them be kept, the cheapest first",
                MENDED,
                ((relaxed, remedy) for p in placements for relaxed in p.relaxed for remedy in relaxed.remedies or ()),
                design.figures,
            ),
            table("Panels between joints, corners and ends", PANELS, design.plan.panels, design.figures),
            *rule_keys(
                (j.basis for j in design.plan.joints),
                width_rules(design.plan.joints),
                (p.basis for p in design.fittings.joint_parts),
            ),
        ),
    )


def lintels(design: Design) -> Sheet:
    """Every lintel with its bearings."""
    return Sheet(
        "Lintels",
        "Clear span: the longest between supports. The section of every lintel is for a qualified engineer or load tables. "
        "Mass: as wide as its leaf is thick, by the density of its kind; not known of steel, ask the maker.",
        (
            table("Lintels", LINTELS, design.fittings.lintels, design.figures),
            *load_tables(design),
            *rule_keys((x.basis for x in design.fittings.lintels), (x.basis for x in design.fittings.lintel_loads)),
        ),
    )


def ties(design: Design) -> Sheet:
    """Wall ties by wall and place, how many there are to the square metre of each panel, and where slip ties lie."""
    walls = design.fittings.ties
    return Sheet(
        "Ties",
        "Counted as placed: staggered grid, and extra ties at edges.",
        (
            table("Wall ties, by wall", TIES, walls, design.figures),
            table(
                "Ties in the masonry between movement joints",
                TIE_PANELS,
                ((w, panel) for w in walls for panel in w.panels),
                design.figures,
            ),
            table(
                "What ties are there for",
                TIE_REASONS,
                ((w, kind, "; ".join(meaning_of(k, design.figures) for k in keys)) for w in walls for kind, keys in w.reasons),
                design.figures,
            ),
            table(
                "Slip ties across movement joints",
                SLIP_TIES,
                sorted((t for w in walls for t in w.ties if t.kind == "slip"), key=lambda t: (t.leaf or "", t.at, t.level)),
                design.figures,
            ),
            *rule_keys(wall.basis for wall in design.fittings.ties),
        ),
    )


def damp_proofing(design: Design) -> Sheet:
    """Damp-proof courses and cavity trays."""
    courses, trays = design.fittings.damp_courses, design.fittings.trays
    return Sheet(
        "Damp-proofing",
        "Lengths as laid; laps are extra and are in the order list.",
        (
            table("Damp-proof courses", DAMP_COURSES, courses, design.figures),
            table("Cavity trays", TRAYS, trays, design.figures),
            *rule_keys((d.basis for d in courses), (t.basis for t in trays)),
        ),
    )


def _no_rod(part: JointParts) -> str:
    return "none, tape" if part.bond_breaker == "tape" else NOT_KNOWN


def _or(words: str, number: float | None) -> Value:
    return words if number is None else number


def rule_keys(*bases: Iterable[tuple[str, ...]]) -> Iterator[Block]:
    """The rules behind a sheet's figures, each once: most rows of a table share them."""
    keys = sorted({key for basis in bases for each in basis for key in each})
    if keys:
        yield notes("Rule keys: values and sources are on the sheet Basis", keys, 16)
