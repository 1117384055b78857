"""The indexed colours CAD programs share: what each looks like, and which comes nearest to a colour.

1 to 9 are named colours, 10 to 249 go round the hues in steps of 15 degrees, five brightnesses each, full and half as strong;
250 to 255 are greys. Put together from general knowledge (`memory`); programs differ by a step or so, in the greys by more.
"""

from __future__ import annotations

import math

Rgb = tuple[int, int, int]

LAST = 255
_NAMED: dict[int, Rgb] = {
    1: (255, 0, 0),
    2: (255, 255, 0),
    3: (0, 255, 0),
    4: (0, 255, 255),
    5: (0, 0, 255),
    6: (255, 0, 255),
    7: (255, 255, 255),
    8: (128, 128, 128),
    9: (192, 192, 192),
}
_BRIGHTNESSES = (255, 165, 127, 76, 38)
_DARKEST_GREY, _GREYS = 51, 250
_WHITE = (0.9505, 1.0, 1.089)
"""Daylight of 6500 K, by which CIE L*a*b* is reckoned."""


def rgb_of(index: int) -> Rgb:
    """What an indexed colour from 1 to 255 looks like on black. On white, 7 is black."""
    if index in _NAMED:
        return _NAMED[index]
    if index >= _GREYS:
        grey = round(_DARKEST_GREY + (255 - _DARKEST_GREY) * (index - _GREYS) / (LAST - _GREYS))
        return (grey, grey, grey)
    bright = _BRIGHTNESSES[index % 10 // 2]
    dark = bright / 2 if index % 2 else 0.0
    hue = (index // 10 - 1) * 15
    red, green, blue = (int(dark + (bright - dark) * _share(hue + turn)) for turn in (0, 240, 120))
    return (red, green, blue)


def nearest_index(rgb: Rgb) -> int:
    """The indexed colour that looks most like a colour (CIE 1976 L*a*b*); never the one that depends on the background."""
    wanted = lab(rgb)
    return min((i for i in range(1, _GREYS) if i != 7), key=lambda i: (distance(lab(rgb_of(i)), wanted), i))


def luminance(rgb: Rgb) -> float:
    """Relative luminance, from black 0 to white 1 (WCAG 2.1, definition of relative luminance)."""
    red, green, blue = map(_linear, rgb)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: Rgb, other: Rgb) -> float:
    """How two colours stand out from one another, 1 to 21 (WCAG 2.1, definition of contrast ratio)."""
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


def lab(rgb: Rgb) -> tuple[float, float, float]:
    """A colour in CIE 1976 L*a*b*."""
    red, green, blue = map(_linear, rgb)
    x = 0.4124 * red + 0.3576 * green + 0.1805 * blue
    y = 0.2126 * red + 0.7152 * green + 0.0722 * blue
    z = 0.0193 * red + 0.1192 * green + 0.9505 * blue
    fx, fy, fz = (_bent(part / white) for part, white in zip((x, y, z), _WHITE, strict=True))
    return (116 * fy - 16, 500 * (fx - fy), 200 * (fy - fz))


def distance(one: tuple[float, float, float], other: tuple[float, float, float]) -> float:
    """How far apart two colours look: 1 is about the least a careful eye can tell."""
    return math.dist(one, other)


def _share(hue: float) -> float:
    """How much of red a full hue has, 0 to 1; green and blue are red a third of a turn on."""
    return max(0.0, min(1.0, abs(hue % 360 / 60 - 3) - 1))


def _linear(channel: int) -> float:
    part = channel / 255
    return part / 12.92 if part <= 0.04045 else float(((part + 0.055) / 1.055) ** 2.4)


def _bent(part: float) -> float:
    return float(part ** (1 / 3)) if part > 216 / 24389 else (24389 / 27 * part + 16) / 116
