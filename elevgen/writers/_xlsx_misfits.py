"""The table of levels that land on no course: what would land, which course pays, and which bed would do. Lengths mm."""

from __future__ import annotations

from elevgen.core.measures import METRE
from elevgen.coursing.model import Misfit
from elevgen.writers._xlsx_model import Field, Fields


def _barred(misfit: Misfit) -> str:
    """Why the bed a level needs is not laid."""
    words = {
        "tolerance": "outside the tolerance of beds",
        "ties": "beds of both leaves meet for the ties",
        "run": "courses would not meet those of other walls",
        "others": "1 level that now lands would not" if misfit.loses == 1 else f"{misfit.loses} levels that now land would not",
    }
    return "" if misfit.barred is None else words[misfit.barred]


MISFITS: Fields[Misfit] = (
    Field("Leaf", 24, "text", lambda m: m.leaf),
    Field("What", 24, "wrap", lambda m: m.what),
    Field("Level m", 10, "level", lambda m: m.level / METRE),
    Field("Nearest below", 10, "level", lambda m: m.down / METRE),
    Field("Nearest above", 10, "level", lambda m: m.up / METRE),
    Field("Course", 8, "nr", lambda m: m.course),
    Field("Units cut to", 9, "mm", lambda m: m.cut_to),
    Field("Bed made up to", 9, "mm", lambda m: m.made_up),
    Field("Beds laid", 9, "mm", lambda m: m.bed),
    Field("Bed it needs", 9, "mm", lambda m: m.bed_needed),
    Field("Not laid because", 24, "wrap", _barred),
)
