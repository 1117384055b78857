"""A cavity wall whose leaves have no masonry opposite one another has no density of ties: the check divided by nothing."""


def test_there_is_nothing_to_tie(wall_of):
    opening = {"id": "O1", "at": 0, "width": 6000, "sill": 0, "height": 2700}
    design = wall_of({"openings": [opening]}, {}, {})
    (finding,) = (f for f in design.findings if f.code == "tie-density")
    assert (finding.severity, finding.text) == ("pass", "no masonry of both leaves to tie")
