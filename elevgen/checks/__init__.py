"""One file per check; each re-measures the design from its positions and outlines and yields findings.

A check file is named by its code (`panel_ratio.py` holds `panel-ratio`) and offers CODE, TITLE, RATIONALE and
`check(design) -> Iterator[Finding]`. Files beginning with `_` are shared tools. A check of what only some rule sets ask has
ASKED_BY, the beginnings of the keys that ask it, and says nothing where the set has no value for any of them.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Container, Iterable, Iterator, Sequence
from dataclasses import replace
from importlib import import_module
from itertools import chain, count
from types import ModuleType

from elevgen.checks._finding import BUILDING, Place, found
from elevgen.checks._rules import uncovered
from elevgen.core.discover import load_module, module_names
from elevgen.core.errors import RuleNotCovered
from elevgen.result import SEVERITIES, Design, Finding

UNUSED_WAIVER = "unused-waiver"


def codes() -> tuple[str, ...]:
    """The permanent id of every check, sorted."""
    return tuple(sorted((*(name.replace("_", "-") for name in module_names(_package())), UNUSED_WAIVER)))


def run_checks(design: Design) -> tuple[Finding, ...]:
    """Every finding of every check, worst first, with the spec's waivers applied.

    A rule the set does not cover gives a `not_checked` finding; nothing a check meets in a building is an error.
    """
    package = _package()
    findings = [known for name in module_names(package) for known in _checked(load_module(package, name), design)]
    told = _told_once(tuple(_waived(findings, design)))
    return tuple(sorted(told, key=lambda f: (SEVERITIES.index(f.severity), f.code)))


def _package() -> ModuleType:
    return import_module(__name__)


def _checked(module: ModuleType, design: Design) -> Iterator[Finding]:
    """A check's findings by its code; a rule it stumbles over is one more of them."""
    return _identified(module.CODE, _findings(module, design))


def _findings(module: ModuleType, design: Design) -> Iterator[Finding]:
    asked_by: tuple[str, ...] = getattr(module, "ASKED_BY", ())
    if asked_by and not any(key.startswith(asked_by) for key in design.rules.values):
        return
    try:
        yield from module.check(design)
    except RuleNotCovered as gap:
        yield uncovered(design, BUILDING, gap.key)


def _identified(code: str, findings: Iterable[Finding]) -> Iterator[Finding]:
    """The findings of one check with ids made of its code and their place, numbered where one place has several."""
    seen: Counter[str] = Counter()
    for finding in findings:
        stem = f"{code}:{finding.where}"
        seen[stem] += 1
        yield replace(finding, code=code, id=stem if seen[stem] == 1 else f"{stem}#{seen[stem]}")


def _waived(findings: Iterable[Finding], design: Design) -> Iterator[Finding]:
    """The findings with the reason of the waiver that accepts each; and a warning for every waiver that accepts none."""
    unused = list(design.spec.waivers)
    for finding in findings:
        accepted = [w for w in design.spec.waivers if w.finding == finding.code and _is_at(finding, w.where)]
        if finding.severity == "pass" or not accepted:
            yield finding
            continue
        unused = [w for w in unused if w not in accepted]
        yield replace(finding, waiver="; ".join(f"{w.reason} ({w.by})" for w in accepted))
    wasted = [found("warn", Place(w.where or "building"), f"no finding {w.finding} here to accept") for w in unused]
    yield from _identified(UNUSED_WAIVER, wasted)


def _told_once(findings: Sequence[Finding]) -> Iterator[Finding]:
    """What is not checked for one reason at several places is one finding of the building, with the ids of them all."""
    places: dict[tuple[str, str, str | None], list[Finding]] = {}
    for finding in findings:
        if finding.severity == "not_checked":
            places.setdefault((finding.code, finding.text, finding.waiver), []).append(finding)
    together = {alike[0].id: alike for alike in places.values() if len(alike) > 1}
    gone = {finding.id for alike in together.values() for finding in alike}
    taken = {finding.id for finding in findings}
    for finding in findings:
        if finding.id in together:
            whole = _of_all(together[finding.id], taken)
            taken.add(whole.id)
            yield whole
        elif finding.id not in gone:
            yield finding


def _of_all(alike: Sequence[Finding], taken: Container[str]) -> Finding:
    """One finding for several that say the same, with an id that is free."""
    stem = f"{alike[0].code}:{BUILDING.label}"
    name = next(name for name in chain((stem,), (f"{stem}#{n}" for n in count(2))) if name not in taken)
    return replace(
        alike[0],
        id=name,
        where=BUILDING.label,
        walls=_once(finding.walls for finding in alike),
        leaves=_once(finding.leaves for finding in alike),
        openings=_once(finding.openings for finding in alike),
        joints=_once(finding.joints for finding in alike),
    )


def _once(names: Iterable[tuple[str, ...]]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(chain.from_iterable(names)))


def _is_at(finding: Finding, meant: str) -> bool:
    """True for the very place, and for a part of it: `W3` means `W3/outer` too, but not `W30`.

    A wall, leaf, opening or joint is meant by its id where the finding is about no other.
    """
    alone = finding.walls, finding.leaves, finding.openings, finding.joints
    if not meant or finding.where == meant or (meant,) in alone:
        return True
    return finding.where.startswith((f"{meant}/", f"{meant} "))
