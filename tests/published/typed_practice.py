"""Common practice of the uk set typed again, in bricks and courses where the trade counts so; other sets have most of it too."""

from __future__ import annotations

from typing import Any

from second_transcription import AAC, CM, CS, DENSE, LIGHT, M

BRICK, COURSE = 225.0, 75.0
JOINTS, TIES, STEEL, LOAD = "movement_joint.", "tie.", "bed_reinforcement.", "lintel.load."

PRACTICE: dict[str, Any] = {
    **dict.fromkeys((f"{STEEL}merge_gap", f"{STEEL}stagger", f"{STEEL}stagger.height", f"{STEEL}parapet.spacing"), 2 * BRICK),
    f"{STEEL}short_laps": 3,
    f"{STEEL}stock_length": 2.7 * M,
    f"{STEEL}wire.number": 2,
    "bond.stack.bed_spacing": 6 * COURSE,
    "bond.lintel_end.clear": 2.5 * CM,
    "bond.opening.clear": 2.5 * CM,
    "bond.opening.courses": 2,
    "coursing.split.min": 2 * CM,
    "cutting.saw": 0.4 * CM,
    "dpc.roll_length": 30 * M,
    "lift.height": 20 * COURSE,
    "waste.finishes": 1 / 20 * 100,
    "finish.mesh.length": 30 * CM,
    "finish.mesh.width": 20 * CM,
    "movement.colour": "dark",
    "movement.temperature.laying.high": 30,
    "movement.temperature.laying.low": 3,
    f"{LOAD}mortar.density": 2.1 * 1000,
    f"{LOAD}storey_height.min": 24 * COURSE,
    **{
        f"unit.density.{of}": 100.0 * each
        for of, each in {"clay": 22, CS: 21, DENSE: 23, LIGHT: 15, AAC: 7.5, "stone": 27}.items()
    },
    "lintel.density.concrete": 2.5 * 1000,
    "lintel.density.stone": 2.7 * 1000,
    **dict.fromkeys((f"{JOINTS}beside_corner.clear", f"{JOINTS}beside_opening.clear"), 3 * BRICK),
    f"{JOINTS}change_of_height": 12 * COURSE,
    f"{JOINTS}change_of_thickness": 5 * CM,
    f"{JOINTS}old_to_new": "joint",
    f"{JOINTS}tolerance": 0.3 * CM,
    f"{JOINTS}unlike_materials": "clay_with_shrinking",
    "opening.pier.min": BRICK - 10,
    "opening.strip.min": 2 * COURSE,
    "pack.sealant.cartridge": 1000 * 0.31,
    "pack.sealant.foil_pack": 1000 * 0.6,
    f"{TIES}apart": 10 * CM,
    f"{TIES}beds.tolerance": 1 * CM,
    f"{TIES}cover": 2 * CM,
    f"{TIES}edge.clear": 2 * CM,
    f"{TIES}top.vertical": 4 * COURSE,
    "tray.abutment.above": 2 * COURSE,
    "tray.built_in": 10 * CM,
    "tray.step.lap": COURSE,
    "tray.step.length": BRICK,
}
"""Common practice, no source: typed twice, in bricks and courses where the trade counts so. Other sets have it too."""
PRACTICE_BESIDE: dict[str, tuple[Any, ...]] = {
    f"{JOINTS}spacing.normal.clay": (10 * M,),
    f"{JOINTS}spacing.normal.{DENSE}": (7.5 * M,),
    f"{JOINTS}spacing.limit.{DENSE}": (9 * M,),
}
"""Other figures of common practice: brick every 10 to 12 m, block every 7.5 to 9 m, by one reading."""
