"""What every writer is given. A writer module offers `render(package) -> dict[str, bytes]`: file names below the
output folder, and their content."""

from __future__ import annotations

from dataclasses import dataclass, field

from elevgen.drawing.scene import Scene
from elevgen.result import Design
from elevgen.takeoff.model import Takeoff
from elevgen.takeoff.rates import Rates


@dataclass(frozen=True, slots=True)
class Package:
    """A design with its take-off, its scene and the user's own rates, ready to be written in any format."""

    design: Design
    takeoff: Takeoff
    scene: Scene
    rates: Rates = field(default_factory=Rates)
