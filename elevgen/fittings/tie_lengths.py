"""How long a tie is: what the table of cavities gives, and never less than the cavity and an embedment in each leaf."""

from __future__ import annotations

from elevgen.building.model import Wall
from elevgen.core.geometry import at_least, at_most
from elevgen.rules.book import RuleReader
from elevgen.rules.figures import figure


def tie_length(wall: Wall, reader: RuleReader) -> float | None:
    """The shortest length of the table (PD 6697) its cavity allows that reaches 50 mm into each leaf (NHBC 6.1.18); mm.

    The spec's length where it has one. None past the table, and where the rule set has no table.
    """
    if wall.tie_length is not None or wall.cavity is None:
        return wall.tie_length
    table = reader.find("tie.length")
    if table is None:
        return None
    least = wall.cavity + 2 * (figure(reader, "tie.embedment") or 0.0)
    cavity = wall.cavity
    return next((length for up_to, length in table.bands if at_most(cavity, up_to) and at_least(length, least)), None)
