"""The order of a bill: by section, kind and size, however the quantities come."""

from elevgen.takeoff.sections import SECTIONS, in_trade_order, section

CODES = (
    *("WALL-M2/FACING/STRETCHER/102.5", "CAVITY-M2/100", "UNIT-NR/FACING", "MORTAR-M3"),
    *("JT-MOVE-M/10x100", "JT-FILL-M/10x90", "JT-ROD-M/12.5", "JT-SEAL-M/10x10", "JT-SEAL-L", "JT-BEAD-M/RENDER", "TIE-NR/SLIP"),
    *("BR-M/102.5", "LINTEL-NR/985x102.5", "LINTEL-NR/1210x102.5"),
    *("CLOSE-M/JAMB/100", "CLOSE-M/SILL/100", "FAIR-RETURN-M/REVEAL/102.5", "HEAD-M/102.5", "SILL-M/102.5"),
    *("TIE-NR/FIELD/225", "TIE-NR/PARTITION"),
    *("DPC-M/102.5", "TRAY-M", "TRAY-M/385", "TRAY-M/ABUTMENT/510", "TRAY-NR/STEP", "TRAY-END-NR", "WEEP-NR"),
    *("MESH-NR/300x200", "UNIT-CUT-NR/FACING/102.5"),
    *("FAIR-RETURN-M/END/102.5", "CUT-M/FAIR/RAKING/102.5", "CUT-M/ROUGH/LEVEL/100", "BOND-END-M/100", "SET-OUT-NR"),
)
"""In the order they are wanted."""


def test_items_come_in_the_order_of_the_trade_and_of_size() -> None:
    mixed = [*CODES[1::2], *CODES[::2]]
    assert tuple(sorted(mixed, key=in_trade_order)) == CODES


def test_every_item_of_a_building_has_its_section() -> None:
    assert [name for name, _ in SECTIONS] == list(dict.fromkeys(section(code) for code in CODES))
    assert section("WHAT-NOBODY-NAMED") == "Labours"
