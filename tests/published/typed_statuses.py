"""How each figure is known, typed again from the references: by document, then what of a document is known otherwise.

Beginnings of the document's name and of the key; the longest that fits holds. A figure of common practice has no document.
"""

from __future__ import annotations

READ = """
2003 IBC in TEK 12-6|Austrian clay association|BIA Technical Note 18|BIA Technical Note 28|Beall|Brick Development Association
Building Construction Handbook|City of Paris|Civil & Structural Designers Data Pack|Concrete Block Association|Concrete Society
Construction Materials|Construction Waterproofing Handbook|Cornell|Eden|Handbook of Adhesives|HomeBond|LABC Warranty
Masonry magazine|Materials for Architects|NAVEDTRA 14045|NCC Housing Provisions|NHBC Standards|National Building Code of Canada
RICS isurv|Structural Engineer's Pocket Book|TEK 10-2B|TEK 12-6|TEK 17-1B|TM 5-809-3|Taly|Technical Information Sheet 9
architectural detailing textbook, title not recorded|clay masonry handbook|guide specification|model code text
"""
QUOTED = """
ACI 530|AS 3700|AS 4773.1|Approved Document A|Australian trade web page
BIA Technical Note 18 on a trade web page|BIA Technical Note 44B|BS 5628-3|BS 5977-1|Belgian and Dutch
Bricks & Pavers Technical Manual|CABO|DIN 1053-1|EN 1991-1-5|EN 1996-2|German clay industry|German trade|IRC
IRC in Modern Masonry|LABC Warranty and Premier Guarantee|Masonry Construction magazine|Masonry magazine, March 2003
NF DTU|NHBC TG 6.1/38
NHBC craftsmanship guide|NHBC guidance, masonry background|PD 6697
PD 6697 in NHBC|Polish trade|TEK 10-02D|TEK 53|TMS 12|TMS 402|TMS 602|UBC
UK how-to site|UK price guide|architectural detailing textbook and a course answer page|brick tutorial|bricklaying textbook
consultant's web page|contractor's rule|engineering reference page|exam candidates|masonry rules of Poland|sealant guideline
trade web page
"""
MEMORY = """
BIA Technical Note 10, from memory|BS 6093|EN 1996-1-1|IRC, from memory|ISO 11600|NCC Housing Provisions; AS 4773|NCMA
TEK 10-2, from memory|TEK 10-3|TEK 10-4, from memory|TMS 402, from memory|TMS 402, later|UK NA to EN 1996-2|backer rod makers
damp-proof course practice|estimating practice|guidance on handling|range of clay bricks|rendering practice|wire sizes
"""
DERIVED = "CMAA CM01|HUD|MSJC|arithmetic|standard mechanics"
STATUSES: dict[tuple[str, str], str] = {
    (document, ""): status
    for status, text in {"read": READ, "quoted": QUOTED, "memory": MEMORY, "derived": DERIVED}.items()
    for line in text.split("\n")
    for document in line.split("|")
    if document
}
OTHERWISE = {
    ("BIA Technical Note 18A", "movement_joint.with_openings."): "derived",
    ("Civil & Structural Designers Data Pack", "bed_reinforcement.wire.diameter"): "derived",
    ("Civil & Structural Designers Data Pack", "movement_joint.unlike_materials"): "derived",
    ("Concrete Block Association", "filler.strip_to_width."): "derived",
    ("Construction Materials", "movement.moisture."): "derived",
    ("Construction Materials", "movement.reversible."): "derived",
    ("IRC in Modern Masonry", "lintel.needed_over"): "derived",
    ("Masonry magazine, March 2003", "movement.reversible."): "derived",
    ("NCC Housing Provisions", "movement_joint.with_openings.number"): "derived",
    ("PD 6697 in NHBC", "tie.free_top.horizontal"): "derived",
    ("TM 5-809-3", "movement.reversible."): "derived",
    ("TMS 602", "tolerance.level.length"): "derived",
    ("EN 1996-1-1", "movement.thermal."): "quoted",
    ("EN 1996-1-1", "movement.thermal.low.stone"): "memory",
    ("EN 1996-1-1", "movement.thermal.high.stone"): "memory",
    ("EN 1996-2", "movement_joint.spacing.normal.aircrete"): "memory",
    ("LABC Warranty", "movement_joint.short_return"): "quoted",
    ("NHBC Standards", "movement_joint."): "quoted",
    ("NHBC Standards", "tolerance.plumb."): "quoted",
    ("NHBC Standards", "bed.tolerance"): "memory",
    ("NHBC Standards", "tray.rise"): "memory",
    ("NHBC Standards", "weep.minimum"): "memory",
    ("PD 6697", "movement_joint."): "memory",
    ("UK NA to EN 1996-2", "movement_joint.spacing.normal.dense_concrete"): "quoted",
    ("UK NA to EN 1996-2", "movement_joint.spacing.limit.dense_concrete"): "quoted",
    ("NCC Housing Provisions", "movement_joint."): "quoted",
    ("NCC Housing Provisions", "movement_joint.at_opening."): "memory",
    ("NCC Housing Provisions", "movement_joint.change_of_height"): "memory",
    ("NCC Housing Provisions", "lintel.bearing."): "quoted",
}
STATUSES |= OTHERWISE
ONLY_IN = {("us", "sealant.width.max"): "derived"}
"""By set and key, what one set says more guardedly than its parent: 50 mm there is 2 in here."""


def which(document: str, key: str) -> tuple[str, str] | None:
    """Under which beginnings a document's figure is typed; None where under none."""
    fits = [each for each in STATUSES if document.startswith(each[0]) and key.startswith(each[1])]
    return max(fits, key=lambda each: (len(each[0]), len(each[1])), default=None)


NOTED = {
    "2 ft and more": "quoted",
    "80 lb": "read",
    "13 mm strip": "read",
    "17.5 bricks": "read",
    "25 to 50 mm": "read",
    "ASTM C426": "from memory",
    "Beall": "read",
    "Data Pack": "read",
    "EN 1996-1-1": "from memory",
    "Eden": "read",
    "Housing Industry Association": "quoted",
    "NHBC 6.1": "quoted",
    "NHBC Standards 6.1.18": "read",
    "Pocket Book": "read",
    "TEK 10-2C": "read",
    "TEK 10-2C has the same on a trade web page": "quoted",
    "TN 18A": "read",
    "Taly p.6.18": "quoted",
    "W2.8 at 24 in": "derived",
    "crack control coefficient": "quoted",
    "greatest of 1/2 in": "quoted",
    "least diameter": "read",
    "multiple openings": "read",
    "no size is named": "read",
    "openings wider or higher": "from memory",
    "sealant guideline": "quoted",
    "seven courses": "read",
    "the equation": "read",
    "tolerance of": "quoted",
    "trade web page": "quoted",
    "25 half-high": "quoted",
    "nominal": "read",
}
"""How what a note names is known: the words before the bracket, the longest that fits."""
