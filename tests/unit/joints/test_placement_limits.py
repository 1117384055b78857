"""Limits met exactly and missed by a hair, on masonry small enough to know the answer."""

from elevgen.building.model import Profile
from elevgen.core.geometry import Span
from elevgen.joints.audit import broken, remnants
from elevgen.joints.problem import Candidate, Edge, Face, Problem
from elevgen.joints.solve import solve


def straight(length, *places, ends=("free", "free"), reach=None, panel=None, spacing=12000.0):
    span = Span(0.0, length)
    profile = None if panel is None else Profile(((0.0, panel), (length, panel)))
    edge = Edge("w", "w", "a", "b", span, tuple(Candidate(float(p)) for p in places))
    return Problem((edge,), (Face("w", span, *ends, reach, profile),), spacing)


def corner(one, two, *, first=(), second=(), reach=6000.0, spacing=12000.0):
    """Two walls round one corner; places on the second are measured from the corner."""
    edges = (
        Edge("u", "u", "a", "c", Span(0.0, one), tuple(Candidate(float(p)) for p in first)),
        Edge("v", "v", "c", "b", Span(0.0, two), tuple(Candidate(float(p)) for p in second)),
    )
    faces = (
        Face("u", Span(0.0, one), "free", "corner", reach),
        Face("v", Span(0.0, two), "corner", "free", reach),
    )
    return Problem(edges, faces, spacing)


def at(problem):
    return [a for _, a in solve(problem).joints]


def test_a_run_as_long_as_the_spacing_needs_no_joint():
    assert at(straight(12000.0, 4000, 6000)) == []
    assert at(straight(12000.02, 4000, 6000)) == [6000.0]


def test_a_joint_exactly_at_the_spacing_serves():
    assert at(straight(24000.0, 11000, 12000, 13000)) == [12000.0]
    assert len(at(straight(24000.03, 11000, 12000, 13000))) == 2


def test_the_corner_does_not_break_a_run():
    assert at(corner(9000.0, 2900.0, first=(3000, 5000))) == []
    assert at(corner(9000.0, 3100.0, first=(3000, 5000))) == [5000.0]


def test_first_joint_from_a_corner_at_half_the_spacing_and_not_beyond():
    assert at(corner(15000.0, 2000.0, first=(8999.9, 9000))) == [9000.0]
    # with no place within reach of the corner the nearest is taken and the miss is told
    problem = corner(15000.0, 2000.0, first=(5500, 8900))
    found = solve(problem)
    assert [a for _, a in found.joints] == [8900.0]
    assert [(b.rule, b.measured, b.limit) for b in broken(problem, found.joints)] == [("corner", 6100.0, 6000.0)]


def test_both_sides_of_a_corner_have_their_own_first_joint():
    found = at(corner(20000.0, 20000.0, first=range(500, 20000, 500), second=range(500, 20000, 500)))
    assert len(found) == 4
    problem = corner(20000.0, 20000.0, first=range(500, 20000, 500), second=range(500, 20000, 500))
    assert broken(problem, solve(problem).joints) == ()


def test_corner_sum_of_the_two_first_joints_is_the_spacing():
    """BDA, Designing for Movement: 12 m measured round an external return; 4 m one side leaves 8, which the half rule forbids."""
    assert at(corner(16000.0, 18000.0, first=(12000,), second=(6000, 8000))) == [12000.0, 6000.0]


def test_panel_no_longer_than_its_height_allows():
    assert at(straight(7200.0, 3600, panel=7200.0)) == []
    assert at(straight(7200.5, 3600, panel=7200.0)) == [3600.0]


def test_a_stretch_without_a_place_is_cut_as_near_as_can_be_and_told():
    problem = straight(30000.0, 4000, 5000, 18500, 19500, 25000)
    found = solve(problem)
    assert found.optimal
    assert [a for _, a in found.joints] == [5000.0, 18500.0]
    (miss,) = broken(problem, found.joints)
    assert (miss.rule, miss.measured, miss.limit) == ("spacing", 13500.0, 12000.0)


def test_given_joints_stay_and_the_rest_is_solved_round_them():
    edge = Edge(
        "w", "w", "a", "b", Span(0.0, 30000.0), tuple(Candidate(float(x), given=x == 7000) for x in range(1000, 30000, 1000))
    )
    problem = Problem((edge,), (Face("w", edge.span, "free", "free"),), 12000.0)
    found = solve(problem)
    assert len(found.joints) == 2
    assert ("w", 7000.0) in found.joints
    assert max(r.longest for r in remnants(problem, found.joints)) <= 12000.0


def test_preferences_in_their_order():
    def pick(*candidates):
        edge = Edge("w", "w", "a", "b", Span(0.0, 20000.0), candidates)
        return at(Problem((edge,), (Face("w", edge.span, "free", "free"),), 12000.0))

    middle, aside = Candidate(10000.0), Candidate(8100.0)
    assert pick(aside, middle) == [10000.0]
    assert pick(Candidate(8100.0, hidden=True), middle) == [8100.0]
    assert pick(aside, Candidate(10000.0, hidden=True, crowding=1)) == [8100.0]
    assert pick(Candidate(9990.0), Candidate(10000.0, on_grid=False)) == [10000.0]
    assert pick(Candidate(9900.0, on_grid=False), Candidate(10100.0)) == [10100.0]


def test_a_short_wall_tied_into_long_ones_still_counts():
    """Both ends of a 9 m wall tied into 10 m walls: 19 m and more round each meeting."""
    places = tuple(Candidate(float(x)) for x in range(500, 9001, 500))
    long_places = tuple(Candidate(float(x)) for x in range(500, 5000, 500))
    edges = (
        Edge("s", "s", "t", "u", Span(0.0, 9000.0), places),
        Edge("l1", "l", "a", "t", Span(0.0, 5000.0), long_places),
        Edge("l2", "l", "t", "b", Span(5000.0, 10000.0), tuple(Candidate(c.at + 5000) for c in long_places)),
        Edge("r1", "r", "c", "u", Span(0.0, 5200.0), long_places),
        Edge("r2", "r", "u", "d", Span(5200.0, 10100.0), tuple(Candidate(c.at + 5200) for c in long_places)),
    )
    faces = (
        Face("s", Span(0.0, 9000.0), "stem", "stem"),
        Face("l", Span(0.0, 10000.0), "free", "free"),
        Face("r", Span(0.0, 10100.0), "free", "free"),
    )
    problem = Problem(edges, faces, 12000.0)
    found = solve(problem)
    assert [e for e, _ in found.joints] == ["s"]
    assert broken(problem, found.joints) == ()
