"""What stands in the masonry: movement joints, lintels, bed reinforcement, ties, damp-proof courses. With their labels."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from elevgen.building.model import Zone
from elevgen.core.geometry import TOLERANCE, Rect, Span
from elevgen.drawing.board import SMALLEST_TEXT, Board, Room, inset
from elevgen.drawing.facts import LeafFacts, ReinforcedBeds
from elevgen.drawing.flags import FLAG_SIZE, joint_flags
from elevgen.drawing.font import DESCENT
from elevgen.drawing.labels import Label, Spot
from elevgen.drawing.scene import Align, Role, Symbol
from elevgen.drawing.schedule_lintels import bearing
from elevgen.drawing.schedule_ties import ties_on
from elevgen.fittings.model import BedReinforcement, DampCourse, Lintel, TieKind

TIE_SIZE = 1.6
LABEL_SIZE = 2.0
OVER_LINE = 1.3
"""From a line to the base of a label over it: what hangs below the letters is kept clear too, paper mm."""
TIE_WORDS: dict[TieKind, str] = {
    "field": "wall tie",
    "reveal": "wall tie beside an opening",
    "joint": "wall tie beside a movement joint",
    "end": "wall tie at a free end, a step or a change of leaf",
    "verge": "wall tie at a verge or top",
    "slip": "slip tie across a movement joint",
    "partition": "tie to a wall met",
}


def draw_joints(board: Board, facts: LeafFacts) -> None:
    """Each movement joint at its true width over its full height, on a stalk with a flag that names it."""
    for joint, gap in zip(facts.joints, joint_gaps(facts), strict=True):
        length = facts.figures.length
        title = f"movement joint {joint.id}, {length(gap.width)} wide, at {length(joint.at)}: {joint.reason}"
        if joint.rejected:
            title += f". Not taken: {'; '.join(other.why for other in joint.rejected)}"
        board.rectangle(Role.MOVEMENT_JOINT, gap, joint.id, title)
        board.room.take(inset(gap, -board.mm(0.8)))
    for joint, words, box in joint_flags(board, facts):
        # Past a step the stalk stands in the open: as heavy as the joint, it would look like one.
        stalk = Role.MOVEMENT_JOINT if joint.levels.end >= facts.face.top - TOLERANCE else Role.MARK
        stalk_title = f"movement joint {joint.id}"
        board.line(stalk, (joint.at, joint.levels.end), (joint.at, box.bottom), joint.id, stalk_title)
        board.rectangle(Role.MOVEMENT_JOINT, box, joint.id)
        at = (box.along.middle, box.levels.middle)
        board.text(Role.MOVEMENT_JOINT, at, words, FLAG_SIZE, "centre", "middle", bold=True, source=joint.id)


def joint_gaps(facts: LeafFacts) -> tuple[Rect, ...]:
    """What every movement joint takes of the face."""
    return tuple(Rect(j.gap.start, j.levels.start, j.gap.end, j.levels.end) for j in facts.joints)


def draw_lintels(board: Board, facts: LeafFacts) -> tuple[Label, ...]:
    """The underside of each lintel with its bearings; as deep as it is where somebody has chosen its depth."""
    labels: list[Label] = []
    for lintel in facts.lintels:
        y, span = lintel.underside, lintel.span
        rise = lintel.depth if lintel.depth is not None else board.mm(1.5)
        title = (
            f"lintel {facts.short(lintel.id)}, {facts.figures.length(lintel.length)} long, bearings {_bearings(facts, lintel)}"
        )
        shape = ((span.start, y + rise), (span.start, y), (span.end, y), (span.end, y + rise))
        board.polyline(Role.LINTEL, shape, lintel.depth is not None, lintel.id, title)
        board.room.take(Rect(span.start, y - board.mm(0.4), span.end, y + board.mm(0.4 if _takes_text(board, lintel) else 1.7)))
        board.keep_off((span.start, y + rise), (span.end, y + rise))
        labels.append(_lintel_label(board, facts, lintel))
    return tuple(labels)


def _bearings(facts: LeafFacts, lintel: Lintel) -> str:
    """`150 each end` or `150 and 100`."""
    start, end = bearing(facts, lintel.bearing_start), bearing(facts, lintel.bearing_end)
    return f"{start} each end" if start == end else f"{start} and {end}"


def _takes_text(board: Board, lintel: Lintel) -> bool:
    """True for a lintel deep enough on paper to be written in."""
    return lintel.depth is not None and lintel.depth > board.mm(LABEL_SIZE + 1.8)


def _lintel_words(board: Board, facts: LeafFacts, lintel: Lintel) -> tuple[str, bool]:
    """Its name, length and bearings, as much as the opening is wide for; whether the bearings are among that."""
    least = f"{facts.short(lintel.id)} {facts.figures.length(lintel.length)}"
    full = f"{least} long, bears {_bearings(facts, lintel)}"
    room = lintel.clear.length - board.mm(1.5)
    wordings = (full, f"{least} long", least)
    words = next((w for w in wordings if board.fonts.width(w, board.mm(LABEL_SIZE), bold=True) <= room), wordings[1])
    return words, words == full


def _lintel_label(board: Board, facts: LeafFacts, lintel: Lintel) -> Label:
    """In the lintel where it is deep enough, else under it in the opening, over it, or beside it."""
    y, span, middle = lintel.underside, lintel.span, lintel.clear.middle
    quarter = lintel.clear.length / 4
    lifts: tuple[float, ...] = (y + board.mm(2.4), y + board.mm(3.4))
    spots: tuple[Spot, ...] = (Spot((middle, y - board.mm(1.0)), valign="top"),)
    if lintel.depth is not None and _takes_text(board, lintel):
        spots = (Spot((middle, y + lintel.depth / 2)), *spots)
        lifts = (y + lintel.depth + board.mm(1.4),)
    spots += tuple(Spot((x, lift), valign="base") for lift in lifts for x in (middle, middle - quarter, middle + quarter))
    spots += (Spot((span.end + board.mm(1.0), y), "left"), Spot((span.start - board.mm(1.0), y), "right"))
    words, _ = _lintel_words(board, facts, lintel)
    return Label(words, Role.LINTEL, spots, (middle, y), 0, LABEL_SIZE, True, lintel.id, short=facts.short(lintel.id))


def lintel_ends(board: Board, facts: LeafFacts) -> Iterator[Label]:
    """The bearing at each end of a lintel whose own label does not tell it; where there is room, for the table tells it too."""
    for lintel in facts.lintels:
        if _lintel_words(board, facts, lintel)[1]:
            continue
        ends: tuple[tuple[float, float, Align], ...] = (
            (lintel.span.start, lintel.bearing_start, "right"),
            (lintel.span.end, lintel.bearing_end, "left"),
        )
        for at, length, beside in ends:
            y = lintel.underside
            spots = (
                Spot((at + board.mm(-0.8 if beside == "right" else 0.8), y), beside, "middle"),
                Spot((at, y - board.mm(1.0)), beside, "top"),
                Spot((at, y + board.mm(2.4)), beside, "base"),
            )
            words = f"bears {bearing(facts, length)}"
            yield Label(words, Role.LINTEL, spots, (at, y), 3, SMALLEST_TEXT, source=lintel.id, leader=False)


def draw_reinforcement(board: Board, facts: LeafFacts) -> tuple[Label, ...]:
    """Each length as a line in the middle of its bed, doubled where it laps; one label for a regular series of beds."""
    above = {c.number - 1: c.bed for c in facts.coursing.courses}
    labels = []
    for beds in (series for group in facts.reinforced for series in group.series):
        lines = []
        for bed in beds.lengths:
            y = bed.level + above.get(bed.course, 0.0) / 2
            lines.append(y)
            a, b = (bed.span.start, y), (bed.span.end, y)
            board.line(Role.BED_REINFORCEMENT, a, b, bed.id, _reinforcement_title(facts, bed))
            for lap in bed.lap_at:
                over = y + board.mm(0.3)
                said = f"lap of reinforcement, {facts.figures.length(lap.length)}, in the bed on course {bed.course}"
                board.line(Role.BED_REINFORCEMENT, (lap.start, over), (lap.end, over), bed.id, said)
            board.room.take(Rect(a[0], y - board.mm(0.3), b[0], y + board.mm(0.3)))
        labels.append(_reinforcement_label(board, facts, beds, lines))
    return tuple(labels)


def _reinforcement_title(facts: LeafFacts, bed: BedReinforcement) -> str:
    length = facts.figures.length
    return f"reinforcement in the bed on course {bed.course}, {length(bed.span.start)} to {length(bed.span.end)}"


def _reinforcement_label(board: Board, facts: LeafFacts, beds: ReinforcedBeds, lines: list[float]) -> Label:
    """Beside, over or under the lines of a series; between two of them where they are far enough apart."""
    clear, lift = board.mm(1.0), board.mm(LABEL_SIZE * DESCENT / 2)
    span, middle = beds.span, (lines[0] + lines[-1]) / 2
    wide = board.fonts.width("m" * 8, board.mm(LABEL_SIZE))
    spots = [Spot((span.end + clear, middle), "left"), Spot((span.start - clear, middle), "right")]
    along: tuple[tuple[float, Align], ...] = (
        (span.middle, "centre"),
        (span.start, "left"),
        (span.end, "right"),
        (span.start + wide, "left"),
    )
    for x, align in along:
        spots += [Spot((x, lines[-1] + board.mm(OVER_LINE)), align, "base"), Spot((x, lines[0] - clear), align, "top")]
        spots += [Spot((x, (a + b) / 2 + lift), align, "middle") for a, b in pairwise(lines)]
    beds_are = "bed" if len(beds.lengths) == 1 else "beds"
    reach = f"{facts.figures.length(span.start, 0)} to {facts.figures.length(span.end, 0)}"
    corners = f", returns into {' and '.join(beds.round_corners)}" if beds.round_corners else ""
    short = f"{beds_are} {beds.courses}"
    text = f"{short}: {reach}{corners}"
    others = tuple((span.start + span.length * share, middle) for share in (0.5, 0.0, 0.9, 0.7, 0.2))
    target = (span.end, middle)
    return Label(text, Role.BED_REINFORCEMENT, tuple(spots), target, 2, LABEL_SIZE, source=beds.id, targets=others, short=short)


def draw_ties(board: Board, facts: LeafFacts, soft: Room) -> None:
    """A mark for every tie, in its bed; one in a single leaf, on that leaf only."""
    half = board.mm(TIE_SIZE / 2)
    for tie in ties_on(facts):
        title = f"{TIE_WORDS[tie.kind]}, at {facts.figures.length(tie.at)}, level {facts.figures.level(tie.level)}"
        board.add(Symbol(Role.TIE, "tie", (tie.at, tie.level), TIE_SIZE, 0.0, facts.wall.id, title))
        soft.take(Rect(tie.at - half, tie.level - half, tie.at + half, tie.level + half))


def draw_damp_courses(board: Board, facts: LeafFacts) -> tuple[Label, ...]:
    """Each damp-proof course as a heavy dashed line, its level at the end; upright where it goes up a step."""
    labels = []
    for course in facts.damp_courses:
        y, span = course.level, course.span
        where = "under the coping, " if course.place == "coping" else ""
        title = f"damp-proof course {facts.short(course.id)}, {where}level {facts.figures.level(y)}"
        board.line(Role.DPC, (span.start, y), (span.end, y), course.id, title)
        board.room.take(Rect(span.start, y - board.mm(0.5), span.end, y + board.mm(0.5)))
        over, under, in_from = y + board.mm(OVER_LINE + 0.2), y - board.mm(0.95), board.mm(2)
        spots = (
            Spot((span.end - in_from, over), "right", "base"),
            Spot((span.start + in_from, over), "left", "base"),
            Spot((span.end - in_from, under), "right", "top"),
            Spot((span.start + in_from, under), "left", "top"),
            Spot((span.middle, over), "centre", "base"),
        )
        others = tuple((span.start + span.length * share, y) for share in (0.5, 0.25, 0.1, 0.75))
        words = f"dpc {facts.figures.level(y)}"
        target = (span.start + span.length * 0.9, y)
        labels.append(Label(words, Role.DPC, spots, target, 3, LABEL_SIZE, source=course.id, targets=others))
    for one, two in pairwise(sorted(facts.damp_courses, key=lambda course: (course.place, course.span))):
        if one.place == two.place and abs(one.span.end - two.span.start) <= TOLERANCE and one.level != two.level:
            board.line(
                Role.DPC,
                (two.span.start, one.level),
                (two.span.start, two.level),
                max(one, two, key=_level).id,
                "damp-proof course up a step",
            )
    return tuple(labels)


def _level(course: DampCourse) -> float:
    return course.level


def draw_features(board: Board, facts: LeafFacts) -> tuple[Label, ...]:
    """What a joint may hide behind: a thin line where its middle is, and its name. A downpipe is on the outer leaf only."""
    labels = []
    for feature in facts.wall.features:
        inside = facts.leaf.side == "inner" and feature.kind == "downpipe"
        if inside or not facts.leaf.span.contains(feature.at):
            continue
        base, top = facts.leaf.base.level_right_of(feature.at), facts.leaf.top.level_right_of(feature.at)
        title = f"{feature.kind}, at {facts.figures.length(feature.at)}"
        board.line(Role.MARK, (feature.at, base), (feature.at, top), facts.wall.id, title)
        board.keep_off((feature.at, base), (feature.at, top))
        beside = board.mm(LABEL_SIZE + 0.6)
        spots = tuple(
            Spot((feature.at + side * beside, base + (top - base) * share), "centre", "middle", 90.0)
            for share in (0.85, 0.5, 0.15, 0.7, 0.3)
            for side in (1, -1)
        )
        middle = (feature.at, (base + top) / 2)
        words = f"{feature.kind} at {facts.figures.length(feature.at)}"
        label = Label(words, Role.MARK, spots, middle, 3, LABEL_SIZE, source=facts.wall.id, leader=False, short=feature.kind)
        labels.append(label)
    return tuple(labels)


def zone_labels(board: Board, facts: LeafFacts) -> tuple[Label, ...]:
    """Which unit each zone is built of; only where there is more than one."""
    if len(facts.leaf.zones) < 2:
        return ()
    labels = []
    for zone in facts.leaf.zones:
        bottom, top = max(zone.levels.start, facts.face.bottom), min(zone.levels.end, facts.face.top)
        reach = [f"from {facts.figures.level(bottom)}"] if bottom > facts.face.bottom else []
        reach += [f"to {facts.figures.level(top)}"] if top < facts.face.top else []
        words = " ".join((zone.unit.name, *reach))
        wide = board.fonts.width(words, board.mm(LABEL_SIZE))
        xs = (facts.face.left + board.mm(3) + k * facts.face.width / 16 for k in range(15))
        built = [(x, _built(facts, zone, Span(x, min(x + wide, facts.face.right)))) for x in xs if x < facts.face.right]
        spots = tuple(
            Spot((x, levels.start + levels.length * share), "left")
            for share in (0.5, 0.3, 0.7, 0.4, 0.6)
            for x, levels in built
            if levels.length > board.mm(LABEL_SIZE)
        )
        if spots:
            labels.append(Label(words, Role.MARK, spots, spots[0].at, 4, LABEL_SIZE, source=facts.leaf.id, leader=False))
    return tuple(labels)


def _built(facts: LeafFacts, zone: Zone, over: Span) -> Span:
    """The levels between which a zone is built all along a stretch of the leaf; of no height where it is not."""
    bottom = max(zone.levels.start, facts.leaf.base.highest(over))
    return Span(bottom, max(bottom, min(zone.levels.end, facts.leaf.top.lowest(over))))
