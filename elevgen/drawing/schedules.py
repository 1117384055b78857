"""What a setting-out sheet lists: gauge, joints, reinforcement, lintels, ties, units; what to tick off; what is wrong."""

from __future__ import annotations

from elevgen.coursing.model import Course
from elevgen.drawing.facts import LeafFacts
from elevgen.drawing.tables import TICK, Column, Row, Table
from elevgen.fittings.filler_words import filler_words
from elevgen.fittings.model import JointParts, Lintel
from elevgen.fittings.reinforced_words import REINFORCED_FOR
from elevgen.joints.width_words import width_words
from elevgen.result import Finding, Severity

NOT_CALCULATED = "–"
_SEVERITY_WORDS = {"fail": "FAILS", "warn": "Warning"}


def schedules(facts: LeafFacts) -> tuple[Table, ...]:
    """Every table of one leaf, the most needed first."""
    return (
        joint_table(facts),
        finding_table(facts, "fail", "To settle before starting"),
        opening_table(facts),
        hold_points(facts),
        reinforcement_table(facts),
        lintel_table(facts),
        tray_table(facts),
        gauge_table(facts),
        finding_table(facts, "warn", "To look at"),
        unit_table(facts),
        reason_table(facts),
        width_table(facts),
    )


def joint_table(facts: LeafFacts) -> Table:
    """Movement joints: where, from which level to which, how wide, what seals them."""
    columns = (
        Column("Joint", 11),
        Column("at", 13, "right"),
        Column("from", 13, "right"),
        Column("to", 13, "right"),
        Column("width", 10, "right"),
        Column("sealant", 17, "right"),
        Column("height", 14, "right"),
    )
    rows = []
    for joint in facts.joints:
        parts = facts.joint_parts.get(joint.id)
        sealant = (
            f"{facts.figures.length(parts.sealant_width)} × {facts.figures.length(parts.sealant_depth)}"
            if parts
            else NOT_CALCULATED
        )
        cells = (
            facts.short(joint.id),
            facts.figures.length(joint.at),
            facts.figures.level(joint.levels.start),
            facts.figures.level(joint.levels.end),
            facts.figures.length(joint.width.built),
            sealant,
            facts.figures.length(joint.levels.length),
        )
        rows.append(Row(cells, joint.id))
    return Table("Movement joints", columns, tuple(rows))


def opening_table(facts: LeafFacts) -> Table:
    """Every opening: what it is, where, how wide, from which level to which; drawn small it has no room for that."""
    columns = (
        Column("Opening", 20),
        Column("kind", 15),
        Column("from", 13, "right"),
        Column("width", 13, "right"),
        Column("sill", 15, "right"),
        Column("head", 15, "right"),
    )
    rows = tuple(
        Row(
            (
                o.id,
                o.kind,
                facts.figures.length(o.rect.left),
                facts.figures.length(o.rect.width),
                facts.figures.level(o.rect.bottom),
                facts.figures.level(o.rect.top),
            ),
            o.id,
        )
        for o in sorted(facts.openings, key=lambda o: (o.rect.left, o.rect.bottom))
    )
    return Table("Openings", columns, rows)


def reason_table(facts: LeafFacts) -> Table:
    """Why each movement joint is where it is."""
    rows = tuple(Row((facts.short(j.id), j.reason), j.id) for j in facts.joints)
    return Table("Why the joints are there", (Column("", 11), Column("", 82)), rows)


def width_table(facts: LeafFacts) -> Table:
    """Why each movement joint is as wide as it is: by rule of thumb and by calculation, joints alike together."""
    alike: dict[str, list[str]] = {}
    for joint in facts.joints:
        alike.setdefault(f"{facts.figures.measure(joint.width.built)}: {width_words(joint.width)}", []).append(joint.id)
    rows = tuple(Row((in_rows(tuple(map(facts.short, ids))), words), ids[0]) for words, ids in alike.items())
    return Table("How wide the joints are, and why", (Column("", 15), Column("", 78)), rows)


def reinforcement_table(facts: LeafFacts) -> Table:
    """Bed reinforcement: in the bed on top of which courses, from where to where, where its pieces lap, what it is for."""
    columns = (
        Column("on course", 15),
        Column("from", 12, "right"),
        Column("to", 12, "right"),
        Column("length", 13, "right"),
        Column("laps from", 17, "right"),
        Column("at", 23),
    )
    rows = []
    for beds in (alike for group in facts.reinforced for alike in group.alike):
        bed = beds.lengths[0]
        laps = ", ".join(facts.figures.length(lap.start, 0) for lap in bed.lap_at) or (f"{bed.laps}" if bed.laps else "none")
        span = bed.span
        for_what = [words for why, words in REINFORCED_FOR.items() if why in bed.why]
        cells = (
            beds.courses,
            facts.figures.length(span.start),
            facts.figures.length(span.end),
            facts.figures.run(span.length),
            laps,
            "; ".join(
                filter(
                    None, (several(bed.serves), *for_what, *beds.returns(facts.figures), *(f"ends at {x}" for x in bed.ends_at))
                )
            ),
        )
        rows.append(Row(cells, beds.id))
    return Table(_reinforcement_title(facts), columns, tuple(rows))


def _reinforcement_title(facts: LeafFacts) -> str:
    """How long its laps are and how wide it may be, so that it has its cover."""
    lengths = [bed for group in facts.reinforced for bed in group.lengths]
    laps = sorted({bed.lap for bed in lengths if bed.laps})
    widths = [bed.width_most for bed in lengths if bed.width_most is not None]
    said = [f"laps {' and '.join(map(facts.figures.length, laps))}"] if laps else []
    said += [f"up to {facts.figures.length(min(widths))} wide"] if widths else []
    return "Bed reinforcement" + (f", {', '.join(said)}" if said else "")


def _bearing(facts: LeafFacts, length: float) -> str:
    """How far a lintel goes past a reveal, or how far short of it one stops that is listed so."""
    return facts.figures.length(length) if length >= 0 else f"{facts.figures.length(-length)} short"


def lintel_table(facts: LeafFacts) -> Table:
    """Lintels: over what, where, how long, bearing at each end; how deep and in place of how many courses where that is known."""
    columns = (
        Column("Lintel", 16),
        Column("over", 18),
        Column("from", 12, "right"),
        Column("length", 13, "right"),
        Column("bearings", 17, "right"),
        Column("underside", 14, "right"),
    )
    deep = any(lintel.depth is not None for lintel in facts.lintels)
    rows = tuple(
        Row(
            (
                facts.short(lintel.id),
                several(lintel.openings),
                facts.figures.length(lintel.span.start),
                facts.figures.length(lintel.length),
                f"{_bearing(facts, lintel.bearing_start)} / {_bearing(facts, lintel.bearing_end)}",
                facts.figures.level(lintel.underside),
                *((_deep(facts, lintel),) if deep else ()),
            ),
            lintel.id,
        )
        for lintel in facts.lintels
    )
    return Table("Lintels", (*columns, Column("depth", 17, "right")) if deep else columns, rows)


def _deep(facts: LeafFacts, lintel: Lintel) -> str:
    """`140 (2 c.)`: in place of two courses."""
    if lintel.depth is None:
        return "-"
    return facts.figures.length(lintel.depth) + (f" ({lintel.courses} c.)" if lintel.courses else "")


def tray_table(facts: LeafFacts) -> Table:
    """Cavity trays: over what, where, at which level, how many ends stopped, and where to leave a perpend open."""
    columns = (
        Column("Tray", 17),
        Column("from", 13, "right"),
        Column("length", 13, "right"),
        Column("level", 14, "right"),
        Column("ends", 9, "right"),
        Column("weeps at", 27),
    )
    rows = tuple(
        Row(
            (
                facts.short(tray.id),
                facts.figures.length(tray.span.start),
                facts.figures.length(tray.span.length),
                facts.figures.level(tray.level),
                f"{tray.stop_ends}",
                ", ".join(f"{facts.figures.length(at)}{' (cut)' if at in tray.cut_weeps else ''}" for at in tray.weeps),
            ),
            tray.id,
        )
        for tray in facts.trays
    )
    return Table("Cavity trays", columns, rows)


def gauge_table(facts: LeafFacts) -> Table:
    """Which courses are laid to which gauge."""
    columns = (Column("unit", 30), Column("courses", 16), Column("bed", 10, "right"), Column("gauge", 30, "right"))
    rows = []
    for first, last in _alike(facts.coursing.courses):
        gauge = first.bed + first.height
        count = last.number - first.number + 1
        rise = (
            f"{_number(count, 'course')} = {facts.figures.length(gauge * count)}"
            if count < 4
            else f"4 courses = {facts.figures.length(gauge * 4)}"
        )
        numbers = f"{first.number}" if count == 1 else f"{first.number}-{last.number}"
        rows.append(Row((first.unit, numbers, facts.figures.length(first.bed), rise), facts.leaf.id))
    return Table("Gauge", columns, tuple(rows))


def unit_table(facts: LeafFacts) -> Table:
    """How many of each unit are laid whole and cut."""
    columns = (
        Column("unit", 30),
        Column("whole", 14, "right"),
        Column("cut pieces", 16, "right"),
        Column("ties in the wall", 26, "right"),
    )
    ties = f"{facts.ties.count() - facts.ties.count('slip')}" if facts.ties else NOT_CALCULATED
    rows = tuple(
        Row((count.unit, f"{count.full}", f"{count.cut}", ties if n == 0 else ""), facts.leaf.id)
        for n, count in enumerate(facts.coursing.counts)
    )
    return Table("Units as laid, without waste", columns, rows)


def finding_table(facts: LeafFacts, severity: Severity, title: str) -> Table:
    """What fails or warns here, in words; an accepted one with the name of who accepts it."""
    rows: dict[str, Row] = {}
    for finding in facts.findings:
        if finding.severity != severity:
            continue
        where = _here(finding, facts)
        said = f"{where}: {finding.text}" if where and where not in finding.text else finding.text
        words = f"{said} Accepted: {finding.waiver}." if finding.waiver else said
        rows.setdefault(words, Row((_SEVERITY_WORDS[severity], words), finding.id))
    return Table(title, (Column("", 13), Column("", 80)), tuple(rows.values()))


def _here(finding: Finding, facts: LeafFacts) -> str:
    """A place without the leaf or the wall that the sheet is of: `MJ1` for `W1/outer/MJ1`, nothing for the leaf itself."""
    where, sheet = finding.where, facts.leaf.id if finding.leaves else facts.wall.id
    if where == sheet or where.startswith((f"{sheet}/", f"{sheet} ")):
        return where[len(sheet) + 1 :]
    return where


def hold_points(facts: LeafFacts) -> Table:
    """What to check and tick: before, during, after."""
    points = [("Before", p) for p in _before(facts)] + [("During", p) for p in _during(facts)]
    points += [("After", p) for p in _after(facts)]
    rows = tuple(Row((TICK, when, what), facts.leaf.id) for when, what in points)
    return Table("Hold points", (Column("", 5), Column("", 12), Column("", 78)), rows)


def _before(facts: LeafFacts) -> list[str]:
    start = facts.figures.length(facts.face.left)
    length = facts.figures.length(facts.face.width)
    points = [f"Setting-out end marked, face from {start}; {length} overall taped"]
    if facts.coursing.courses:
        points.append(f"Gauge rods marked, {len(facts.coursing.courses)} courses to {facts.figures.level(facts.face.top)}")
        points.append("First two courses dry, reveals and joints marked")
    return points + _damp_courses(facts)


def _damp_courses(facts: LeafFacts) -> list[str]:
    """Each level with a damp-proof course and its laps; at a coping what it must not be of."""
    at: dict[tuple[str, str], int] = {}
    for course in facts.damp_courses:
        where = "under the coping at" if course.place == "coping" else "at"
        barred = f", not of {' or '.join(course.barred)}".replace("_", " ") if course.barred else ""
        key = f"{where} {facts.figures.level(course.level)}", barred
        at[key] = at.get(key, 0) + course.laps
    joints = sum(len(course.folded) for course in facts.damp_courses)
    points = [
        f"Damp-proof course {where}" + (f", {_number(n, 'lap')}" if n else "") + barred for (where, barred), n in at.items()
    ]
    if joints:
        points.append("Damp-proof course runs on through movement joints, lapped or folded there, not cut off")
    return points


def _during(facts: LeafFacts) -> list[str]:
    ties = facts.ties
    edge = ties.count("reveal", "joint", "end", "verge") if ties else 0
    field, met = (ties.count("field"), ties.count("partition")) if ties else (0, 0)
    each_side = ", ties each side" if field + edge else ""
    points = [
        f"{facts.short(j.id)} at {facts.figures.length(j.at)}: open full height, no mortar{each_side}{_slip_ties(facts, j.id)}"
        for j in facts.joints
    ]
    points += [f"Joints filled with {words}" for words in dict.fromkeys(map(filler_words, facts.joint_parts.values())) if words]
    if facts.reinforced:
        bent = any(bed.returns for beds in facts.reinforced for bed in beds.lengths)
        points.append(f"Bed reinforcement as listed, stopped at movement joints{', bent round corners' if bent else ''}")
    if facts.lintels:
        points.append(f"{_number(len(facts.lintels), 'lintel')} level, bearings as listed, on whole units")
    if facts.trays:
        points.append(f"{_number(len(facts.trays), 'cavity tray')} as listed, ends stopped, weeps left open and clean")
    if field + edge:
        points.append(f"Ties as marked: {field} field, {edge} edge; kept clean")
    if met:
        points.append(f"{_number(met, 'tie')} to walls met, as marked")
    return points


def _after(facts: LeafFacts) -> list[str]:
    sealed: dict[str, list[str]] = {}
    for joint in facts.joints:
        parts = facts.joint_parts.get(joint.id)
        how = (
            f" {facts.figures.length(parts.sealant_width)} wide, {facts.figures.length(parts.sealant_depth)} deep"
            if parts
            else ""
        )
        sealed.setdefault(f"{_backed(facts, parts)} and sealed{how}", []).append(facts.short(joint.id))
    points = [f"{', '.join(ids)} cleaned out, {how}" for how, ids in sealed.items()]
    if facts.joints:
        finish = facts.leaf.finish
        beads = f"Joints carried through the {finish}, a stop bead each side"
        points.append(beads if finish else "Joints carried through render, plaster and finishes")
    if facts.mesh:
        corners = _number(sum(strip.faces for strip in facts.mesh), "corner")
        points.append(f"Mesh in the {facts.leaf.finish} across {corners} of openings, as drawn")
    points.append("Faces cleaned, levels and plumb checked")
    return points


def _backed(facts: LeafFacts, parts: JointParts | None) -> str:
    """What the sealant is laid against so that it holds to the two sides only."""
    if parts is None or parts.bond_breaker is None:
        return "backed"
    if parts.backer_diameter is None:
        return "taped at the back"
    return f"backed with {facts.figures.measure(parts.backer_diameter)} rod"


def _slip_ties(facts: LeafFacts, joint: str) -> str:
    parts = facts.joint_parts.get(joint)
    return f", {_number(parts.slip_ties, 'slip tie')} across" if parts and parts.slip_ties else ""


def _number(count: int, what: str) -> str:
    return f"{count} {what}" if count == 1 else f"{count} {what}s"


def in_rows(ids: tuple[str, ...]) -> str:
    """Ids by name, those that follow on each other as the first to the last: `MJ1, MJ4 to MJ7`."""
    rows: list[list[str]] = []
    for name in ids:
        last = rows[-1][-1] if rows else ""
        stem, number = last.rstrip("0123456789"), last[len(last.rstrip("0123456789")) :]
        if number and name == f"{stem}{int(number) + 1}":
            rows[-1].append(name)
        else:
            rows.append([name])
    return ", ".join(f"{row[0]} to {row[-1]}" if len(row) > 2 else ", ".join(row) for row in rows)


def several(ids: tuple[str, ...]) -> str:
    """Up to two ids by name, more than that by the first and how many."""
    return ", ".join(ids) if len(ids) < 3 else f"{ids[0]} +{len(ids) - 1}"


def _alike(courses: tuple[Course, ...]) -> list[tuple[Course, Course]]:
    """First and last of courses in a row of one unit, bed and height."""
    found: list[tuple[Course, Course]] = []
    for course in courses:
        if found:
            first, last = found[-1]
            same = course.unit == first.unit and abs(course.bed - first.bed) < 0.05 and abs(course.height - first.height) < 0.05
            if same and course.number == last.number + 1:
                found[-1] = (first, course)
                continue
        found.append((course, course))
    return found
