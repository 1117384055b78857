"""An opening as high as the eaves of a gable was taken to cut the coping over it, which had no damp-proof course there."""

from elevgen.core.geometry import subtract


def test_the_sheet_under_the_coping_goes_on_over_the_opening(wall_of):
    opening = {"id": "O1", "at": 2000, "width": 1210, "sill": 300, "height": 1800}
    gable = {"top": [[0, 2100], [2500, 3300], [6000, 2100]], "openings": [opening], "stands": "free_standing"}
    design = wall_of(gable, {}, {})
    coping = [course.span for course in design.fittings.damp_courses if course.place == "coping"]
    assert subtract(design.building.leaf("W1/outer").span, coping) == ()
    assert "fail" not in {f.severity for f in design.findings if f.code == "dpc-under-coping"}


def test_an_opening_through_the_top_still_cuts_it(wall_of):
    opening = {"id": "O1", "at": 2000, "width": 1210, "sill": 300, "height": 2400}
    design = wall_of({"openings": [opening], "stands": "free_standing"}, {}, {})
    coping = [course.span for course in design.fittings.damp_courses if course.place == "coping"]
    assert [(round(s.start), round(s.end)) for s in sorted(coping)] == [(0, 2000), (3210, 6000)]
