"""What every writer is given. A writer module offers `render(package) -> dict[str, bytes]`: file names below the
output folder, and their content."""

from __future__ import annotations

from dataclasses import dataclass

from elevgen.drawing.scene import Scene
from elevgen.result import Design
from elevgen.takeoff.model import Takeoff


@dataclass(frozen=True, slots=True)
class Package:
    """A design with its take-off and its scene, ready to be written in any format."""

    design: Design
    takeoff: Takeoff
    scene: Scene
