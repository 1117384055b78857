"""All slots of a leaf set out together, so that each laps what it stands on and what stands on it.

Every slot has a few layouts to choose from: its end pieces in every combination, a broken bond near its middle or under an
opening's. The choice is the best for the whole leaf. Where it still laps too little somewhere, layouts made to measure for
that place are added and the choice is made again. Slots under a slope follow what they stand on.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import chain
from math import floor, nan
from typing import NamedTuple

import numpy as np

from elevgen.core.geometry import TOLERANCE
from elevgen.coursing.choose import Costs, choose
from elevgen.coursing.frames import broken_frames, reordered_frames, unbroken_frames
from elevgen.coursing.part_course import cleared
from elevgen.coursing.setout import set_out
from elevgen.coursing.slots import Slot, Slots
from elevgen.coursing.stretch import CLASH, CUT, END, Layout, Limits, Lines, Stretch, effort, in_the_way, lacking, piece_costs

PLINTH = 10**4
"""What a perpend costs that laps too little on a course of other units: less than a cut, more than being off the middle."""
OUT_OF_STEP = 4 * CUT
"""What it costs that a single course beside an opening has other perpends than it needs: they stand over none of its fellows."""
MOST = 4 * 10**18
"""All slots together cost no more than this, so that sums stay within whole numbers."""
ROUNDS = 3
"""How often layouts made to measure are added before the choice stands."""
_FAR = 1e7
_APART = 1e8


class Option(NamedTuple):
    """A layout, what it costs by itself, its perpends' centre lines and where its broken bond is, from the stretch's left."""

    layout: Layout
    cost: int
    lines: Lines
    place: float


class _Site(NamedTuple):
    """A slot as seen from the end the leaf is set out from: where its left is, what it is to fill, what perpends it brings."""

    origin: float
    stretch: Stretch
    fixed: tuple[float | None, float | None]
    targets: tuple[float, ...]
    limits: Limits

    def fixed_lines(self, rests: tuple[float, float] = (0.0, 0.0)) -> list[float]:
        """The perpends its ends bring, where a layout leaves such rests beside them."""
        left, right = self.fixed
        found = (left + rests[0] / 2 if left is not None else None, right - rests[1] / 2 if right is not None else None)
        return [line for line in found if line is not None]


@dataclass(slots=True)
class Memory:
    """What has been worked out once, for leaves and stretches that are alike."""

    options: dict[_Site, tuple[Option, ...]] = field(default_factory=dict)
    layouts: dict[tuple[Stretch, Limits], Layout] = field(default_factory=dict)

    def layout(self, stretch: Stretch, limits: Limits) -> Layout:
        """A stretch set out."""
        key = stretch, limits
        if key not in self.layouts:
            self.layouts[key] = set_out(stretch, limits)
        return self.layouts[key]


def plan(slots: Slots, limits: Mapping[str, Limits], middles: Sequence[float], memory: Memory) -> list[Layout]:
    """The layout of every slot, in order; some may have been split. `middles` are those of the openings.

    Where no lap is asked for, perpends keep over one another.
    """
    work = _Work(slots, [_site(slot, limits[slot.unit.name], middles, slots.from_right) for slot in slots.all], memory)
    work.choose_flat()
    work.keep_clear()
    work.follow_raking()
    return [layout.mirrored() if slots.from_right else layout for layout in work.layouts()]


def _site(slot: Slot, limits: Limits, middles: Sequence[float], from_right: bool) -> _Site:
    stretch = slot.stretch
    targets = tuple(x for x in middles if slot.left < x < slot.right)
    if from_right:
        origin = -(slot.start + stretch.length)
        left, right = (None if x is None else -x for x in slot.fixed)
        return _Site(origin, stretch.mirrored(), (right, left), _near(stretch, -origin, -1, targets), limits)
    return _Site(slot.start, stretch, slot.fixed, _near(stretch, slot.start, 1, targets), limits)


def _near(stretch: Stretch, origin: float, way: int, middles: Iterable[float]) -> tuple[float, ...]:
    """Where a broken bond is least seen, from the left of a stretch: its middle, and the two openings' middles nearest to it."""
    middle = stretch.length / 2
    found = sorted({round(way * (x - origin), 3) for x in middles}, key=lambda x: (round(abs(x - middle), 3), x))
    return tuple(dict.fromkeys((middle, *found[:2])))


class _Work:
    """The slots of one leaf while they are planned."""

    def __init__(self, slots: Slots, sites: list[_Site], memory: Memory) -> None:
        self._slots, self._sites, self._memory = slots, sites, memory
        self._raking = [slot.raking for slot in slots.all]
        self._options = [[] if raking else list(_options(site, memory)) for site, raking in zip(sites, self._raking, strict=True)]
        self._lines: list[list[Lines]] = [[] for _ in sites]
        self._chosen = [0] * len(sites)
        self._met: dict[tuple[int, int], Costs] = {}
        self._link()

    def _link(self) -> None:
        """Who lies beside whom, and how often."""
        self._weights: dict[tuple[int, int], int] = {}
        self._beside: list[set[int]] = [set() for _ in self._sites]
        for (lower, upper), times in sorted(self._slots.contacts.items()):
            pair = min(lower, upper), max(lower, upper)
            self._beside[lower].add(upper)
            self._beside[upper].add(lower)
            if not (self._raking[lower] or self._raking[upper]):
                self._weights[pair] = self._weights.get(pair, 0) + times

    def choose_flat(self) -> None:
        """Chooses for all slots that are not cut by a slope."""
        self._choose()
        if self._split_off():
            self._choose()
        for _ in range(ROUNDS):
            if not [i for i in sorted(self._clashing()) if self._fit_to_measure(i)]:
                return
            self._choose()

    def keep_clear(self) -> None:
        """Cuts courses anew where perpends stand in places to be kept clear of them, each on and under the others as chosen.

        From the top first: over a head the upper course has less room to move than the one on the lintel.
        """
        asked = [i for i, site in enumerate(self._sites) if site.stretch.clear and not self._raking[i]]
        moved = {i for i in reversed(asked) if self._clear(i)}
        for i in asked:
            if moved & self._beside[i]:
                self._clear(i)

    def _clear(self, i: int) -> bool:
        """Cuts a slot anew where perpends are in the way; whether that helped."""
        site, option = self._sites[i], self._options[i][self._chosen[i]]
        if not in_the_way(option.lines, site.stretch.clear).any():
            return False
        beside = [j for j in sorted(self._beside[i]) if not self._raking[j]]
        layout = cleared(site.stretch._replace(below=self._lines_of(beside, site)), option.layout, site.limits)
        if layout == option.layout:
            return False
        self._options[i].append(_tailored(layout, site))
        self._chosen[i] = len(self._options[i]) - 1
        return True

    def _choose(self) -> None:
        """The best option of every slot, all taken together."""
        flat = [i for i, raking in enumerate(self._raking) if not raking]
        number = {i: k for k, i in enumerate(flat)}
        for i, j in self._weights:
            sizes = len(self._options[i]), len(self._options[j])
            if (i, j) not in self._met or self._met[i, j].shape != sizes:
                self._met[i, j] = self._meeting(i, j)
        single = [np.array([o.cost for o in self._options[i]], np.int64) * self._weight(i) for i in flat]
        worst = MOST // max(1, len(self._weights))
        pairs = {
            (number[i], number[j]): np.minimum(np.minimum(self._met[i, j], worst // times) * times, worst)
            for (i, j), times in self._weights.items()
        }
        for i, option in zip(flat, choose(single, pairs), strict=True):
            self._chosen[i] = option

    def _clashing(self) -> set[int]:
        """The slots that lap others too little where another layout might lap more."""
        return {k for pair in self._weights if self._cost(pair) - self._unavoidable(pair) >= CLASH for k in pair}

    def _cost(self, pair: tuple[int, int]) -> int:
        i, j = pair
        return int(self._met[i, j][self._chosen[i], self._chosen[j]])

    def _unavoidable(self, pair: tuple[int, int]) -> int:
        """What the perpends cost that the ends of two slots bring with them."""
        one, other = (self._sites[i] for i in pair)
        if not (one.fixed_lines() and other.fixed_lines()):
            return 0
        near = [min(abs(x - y) for x in one.fixed_lines()) for y in other.fixed_lines()]
        return int(lacking(min(one.limits.lap, other.limits.lap) - np.array(near)).sum())

    def _split_off(self) -> bool:
        """Where a slot laps too little, or has more cuts than it would need by itself, its top and bottom courses may differ."""
        costs = [[option.cost for option in options] for options in self._options]
        dear = {i for i, found in enumerate(costs) if found and found[self._chosen[i]] >= min(found) + CUT}
        before = len(self._sites)
        like = list(range(before))
        for i in sorted(dear | self._clashing()):
            for top in (False, True):
                if self._slots.split(i, top) is not None:
                    self._sites.append(self._sites[i])
                    self._raking.append(False)
                    self._options.append(list(self._options[i]))
                    self._lines.append(list(self._lines[i]))
                    self._chosen.append(0)
                    like.append(i)
        if len(like) > before:
            self._link()
        for pair in self._weights:
            i, j = (like[k] for k in pair)
            self._met[pair] = self._met[i, j] if (i, j) in self._met else self._met[j, i].T
        return len(like) > before

    def _weight(self, i: int) -> int:
        """How often a slot occurs; a bottom course counts once more, so that it is the one with whole units."""
        return self._slots.times[i] + (i in self._slots.lowest)

    def follow_raking(self) -> None:
        """Sets out slots cut by a slope, each on what it stands on."""
        for i, site in enumerate(self._sites):
            if self._raking[i]:
                lower = [j for j in self._beside[i] if (j, i) in self._slots.contacts]
                layout = set_out(site.stretch._replace(below=self._lines_of(lower, site)), site.limits)
                self._options[i].append(Option(layout, 0, layout.lines(), nan))

    def layouts(self) -> list[Layout]:
        """What has been chosen."""
        return [options[chosen].layout for options, chosen in zip(self._options, self._chosen, strict=True)]

    def _meeting(self, one: int, other: int) -> Costs:
        """What it costs that two slots lie over one another, for all their options."""
        a, b = self._sites[one], self._sites[other]
        lap = min(a.limits.lap, b.limits.lap)
        left = max(a.origin, b.origin) - lap
        right = min(a.origin + a.stretch.length, b.origin + b.stretch.length) + lap
        price = _short_of(lap) if lap else _out_of_line
        laps = _prices(self._lines_between(one, left, right), self._lines_between(other, left, right), price)
        if self._slots.all[one].unit != self._slots.all[other].unit:
            return laps // CLASH * PLINTH
        places = [np.array([site.origin + o.place for o in self._options[i]]) for i, site in ((one, a), (other, b))]
        apart = np.abs(places[0][:, None] - places[1][None, :])
        apart[np.isnan(apart)] = 0.0
        wandering: Costs = apart.round(3).round().astype(np.int64)
        return laps + wandering

    def _lines_between(self, i: int, left: float, right: float) -> list[Lines]:
        """The perpends of every option of a slot that stand between two places."""
        return [lines[slice(*lines.searchsorted((left, right)))] for lines in self._all_lines(i)]

    def _all_lines(self, i: int) -> list[Lines]:
        """The perpends of every option of a slot and those its ends bring."""
        site, known = self._sites[i], self._lines[i]
        for option in self._options[i][len(known) :]:
            fixed = site.fixed_lines(option.layout.rests)
            known.append(np.sort(np.concatenate([fixed, site.origin + option.lines])))
        return known

    def _fit_to_measure(self, i: int) -> bool:
        """Adds the layout that best laps the perpends under, over and in line with a slot as chosen; whether it was new."""
        site = self._sites[i]
        beside = [j for j in sorted(self._beside[i]) if not self._raking[j]]
        layout = self._memory.layout(site.stretch._replace(below=self._lines_of(beside, site)), site.limits)
        if any(layout == option.layout for option in self._options[i]):
            return False
        self._options[i].append(_tailored(layout, site))
        return True

    def _lines_of(self, slots: Iterable[int], site: _Site) -> tuple[float, ...]:
        """The perpends of other slots of the same unit as chosen, from the left of a site and over it."""
        left, right = site.origin, site.origin + site.stretch.length
        chosen = [self._all_lines(j)[self._chosen[j]] for j in slots if self._sites[j].limits == site.limits]
        found = [lines[slice(*lines.searchsorted((left, right)))] - left for lines in chosen]
        return tuple(sorted(set(np.concatenate(found).round(5).tolist()))) if found else ()


def _short_of(lap: float) -> Callable[[Lines], Costs]:
    """What perpends cost that stand so near to one below (mm), where they should lap by so much."""
    return lambda near: lacking((lap - near).round(4))


def _out_of_line(near: Lines) -> Costs:
    """What perpends cost that should stand over one below but stand so far from it (mm); none where there is nothing below."""
    return np.where((near > TOLERANCE) & (near < _FAR / 4), CUT // 2, 0)


def _prices(ones: Sequence[Lines], others: Sequence[Lines], price: Callable[[Lines], Costs]) -> Costs:
    """What the perpends of each of the others cost by where they stand to the nearest of each of the ones."""
    under = np.concatenate([(-_FAR,), *chain.from_iterable((x + k * _APART, (_FAR + k * _APART,)) for k, x in enumerate(ones))])
    over = np.concatenate([*chain.from_iterable((x, (-_FAR / 2,)) for x in others)])
    starts = np.cumsum([0, *(len(lines) + 1 for lines in others[:-1])])
    asked = (over[None, :] + np.arange(len(ones))[:, None] * _APART).ravel()
    after = under.searchsorted(asked)
    near = np.minimum(under[after] - asked, asked - under[after - 1])
    return np.add.reduceat(price(near).reshape(len(ones), -1), starts, axis=1)


def _options(site: _Site, memory: Memory) -> tuple[Option, ...]:
    key = site._replace(origin=0.0, fixed=(None, None))
    if key not in memory.options:
        stretch = site.stretch
        options = list(_offered(site)) if stretch.length > max(stretch.repeated(site.limits)) else []
        if all(option.cost >= END for option in options):
            options.append(_tailored(set_out(stretch, site.limits), site))
        memory.options[key] = tuple({option.layout: option for option in options}.values())
    return memory.options[key]


def _offered(site: _Site) -> Iterator[Option]:
    """Layouts of a slot that may suit: whole units only where they fit; else broken at every place where that is least seen."""
    stretch, limits = site.stretch, site.limits
    fitting = set()
    frames = list(unbroken_frames(stretch, limits))
    nearest_to = min((limits.off_nominal(frame.perpend) for frame in frames), default=0.0)
    for frame in frames:
        fitting.add((frame.left, frame.right))
        cost = effort(stretch, limits, frame.left, frame.right, frame.perpend)
        if stretch.clear and limits.off_nominal(frame.perpend) > nearest_to + TOLERANCE:
            cost += OUT_OF_STEP
        yield _option(frame.layout(frame.wholes), cost, nan, stretch)
    for frame in chain(reordered_frames(stretch, limits), broken_frames(stretch, limits)):
        if (frame.left, frame.right) in fitting:
            continue
        fixed = frame.price(limits) + effort(stretch, limits, frame.left, frame.right, frame.perpend)
        pitch = sum(frame.repeat) + len(frame.repeat) * frame.perpend
        first = frame.place(0)
        for target in site.targets:
            nearest = floor((target - first) / pitch)
            for before in (nearest, nearest + 1):
                if 0 <= before <= frame.wholes:
                    place = first + before * pitch
                    off = min(abs(place - t) for t in site.targets)
                    yield _option(frame.layout(before), fixed + frame.seen * round(round(off, 3)), place, stretch)


def _option(layout: Layout, cost: int, place: float, stretch: Stretch) -> Option:
    """An option at its cost and that of the perpends it has where none should be."""
    lines = layout.lines()
    planned = [c if c.planned is None else c._replace(cost=c.planned) for c in stretch.clear]
    return Option(layout, cost + int(in_the_way(lines, planned).sum()), lines, place)


def _tailored(layout: Layout, site: _Site) -> Option:
    """An option for any layout of a site."""
    stretch, limits = site.stretch, site.limits
    at, cuts = layout.rests[0], []
    for length, count in layout.runs:
        pitch = length + layout.perpend
        if not stretch.keeps(length, limits):
            cuts += [at + k * pitch + length / 2 for k in range(count)]
        at += count * pitch
    within = [x for x in cuts if limits.unit < x < stretch.length - limits.unit]
    place = sum(within) / len(within) if within else nan
    return _option(layout, piece_costs(stretch, limits, layout), place, stretch)
