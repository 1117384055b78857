"""What a bricklayer does with the words of a sheet: places marked along a tape, course numbers counted off."""

import json
import re
from itertools import accumulate, cycle, takewhile

from elevgen.pipeline import design, vocabulary
from elevgen.result import Design
from elevgen.spec.load import parse_text

NUMBER = r"-?\d+(?:\.\d+)?"


def built(walls: list[dict[str, object]], bond: str = "stretcher", unit: str = "facing", **more: object) -> Design:
    """A building of single leaves of brick, through all stages."""
    spec = {
        "spec": 1,
        "units": {"facing": {"material": "clay", "length": 215, "height": 65, "width": 102.5}},
        "leaves": {"brick": {"zones": [{"unit": unit}], "bond": bond}},
        "wall_types": {"single": {"outer": "brick"}},
        "walls": [{"type": "single", "base": -225, "top": 2400, **wall} for wall in walls],
        **more,
    }
    return design(parse_text(json.dumps(spec), "test", vocabulary()))


def places_of(words: str) -> list[float]:
    """The places that words as `225, then every 900 to 5625; 5800` tell of, in order."""
    if words in ("", "none"):
        return []
    return [at for part in words.split("; ") for at in _part(part)]


def _part(part: str) -> list[float]:
    if re.fullmatch(NUMBER, part):
        return [float(part)]
    found = re.fullmatch(rf"({NUMBER}), then (?:every|by turns) (.+) to ({NUMBER})", part)
    assert found, part
    first, last = float(found[1]), float(found[3])
    steps = [float(step) for step in re.findall(NUMBER, found[2])]
    half = min(steps) / 2
    told = [first, *takewhile(lambda at: at < last + half, accumulate(cycle(steps), initial=first))][1:]
    stretch = (last - first) / (told[-1] - first)
    return [first + (at - first) * stretch for at in told]


def courses_of(words: str) -> list[int]:
    """The numbers that words as `1, 4-6, 9, 11, 13 … 21` tell of."""
    found: list[int] = []
    parts = words.split(", ")
    for part in parts:
        if "…" in part:
            near, far = map(int, part.split(" … "))
            step = near - found[-1]
            found += range(near, far + 1, step)
        elif "-" in part:
            first, last = map(int, part.split("-"))
            found += range(first, last + 1)
        else:
            found.append(int(part))
    return found
