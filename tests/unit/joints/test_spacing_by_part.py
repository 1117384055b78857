"""Masonry is held to the strictest material it is made of, not to one it has been cut off from."""

from __future__ import annotations

from itertools import combinations
from math import inf
from random import Random

import pytest
from plans import built, joints_of, wall

from elevgen.core.geometry import Span, at_most
from elevgen.joints.audit import broken, rejoined, remnants
from elevgen.joints.mixed import proven
from elevgen.joints.problem import Candidate, Edge, Face, Problem, Solution
from elevgen.joints.settle import settle
from elevgen.joints.solve import plain, solve


def two_faces(clay: float, block: float, given: float | None) -> Problem:
    """A clay face of 12 m spacing that goes on round a corner in a face of 6 m; places every 250 mm."""
    places = [Candidate(at, given=at == given) for at in range(250, int(clay), 250)]
    edges = (
        Edge("A:0", "A/0", "n0", "n1", Span(0, clay), tuple(places)),
        Edge("B:0", "B/0", "n1", "n2", Span(0, block), tuple(Candidate(at) for at in range(250, int(block), 250))),
    )
    faces = (
        Face("A/0", Span(0, clay), "free", "corner", spacing=12000),
        Face("B/0", Span(0, block), "corner", "free", spacing=6000),
    )
    return Problem(edges, faces, 6000)


def test_parts_have_the_spacing_of_their_own_faces():
    standing, parts = settle(two_faces(12000, 5500, given=11750))
    assert standing == (("A:0", 11750),)
    spacings = {face.id: part.problem.spacing for part in parts for face in part.problem.faces}
    assert spacings == {"A/0#0": 12000, "A/0#1": 6000, "B/0#0": 6000}


def test_a_joint_near_the_corner_leaves_the_clay_to_itself():
    """One joint beside the corner: 11.75 m of clay are well; held to the block's 6 m they would need one more."""
    assert solve(two_faces(12000, 5500, given=11750)).joints == (("A:0", 11750),)
    assert solve(two_faces(12000, 5500, given=None)).joints == (("A:0", 11500),), "with the block 6 m, and most even"


def test_what_remains_is_judged_by_the_faces_in_it():
    problem = two_faces(12500, 5500, given=None)
    pieces = [(r.longest, r.spacing, r.face, r.short_enough) for r in remnants(problem, [("A:0", 12250)])]
    assert pieces == [(12250, 12000, "A/0", False), (5750, 6000, "B/0", True)]
    (miss,) = broken(problem, [("A:0", 12250)])
    assert (miss.rule, miss.measured, miss.limit, miss.face) == ("spacing", 12250, 12000, "A/0")
    (miss,) = broken(problem, [("A:0", 11750)])
    assert (miss.measured, miss.limit, miss.face) == (6250, 6000, "B/0")


def test_a_stretch_without_places_is_judged_by_the_faces_it_has():
    """8 m without a place are well in clay, with a joint before the block; where they go on in block that is hopeless."""
    clay = (Candidate(200), Candidate(300), Candidate(8300), Candidate(8400))
    block = Edge("B:0", "B/0", "n1", "n2", Span(0, 900))
    faces = (Face("A/0", Span(0, 8600), spacing=12000), Face("B/0", Span(0, 900), spacing=6000))
    problem = Problem((Edge("A:0", "A/0", "n0", "n1", Span(0, 8600), clay), block), faces, 6000)
    found = solve(problem)
    assert found == Solution((("A:0", 8300),), True, 1), "8.3 m of clay, 1.2 m with the block"
    assert proven(problem, found, plain) == found
    without = problem._replace(edges=(problem.edges[0]._replace(candidates=clay[:2]), block))
    assert solve(without).joints == (("A:0", 300),)
    assert settle(without)[0] == (("A:0", 300),)
    given = tuple(c._replace(given=c.at == 8400) for c in clay)
    parted = problem._replace(edges=(problem.edges[0]._replace(candidates=given), block))
    assert solve(parted).joints == (("A:0", 8400),)


def test_faces_without_a_spacing_have_the_problems():
    problem = two_faces(9000, 4000, given=None)
    bare = problem._replace(faces=tuple(f._replace(spacing=inf) for f in problem.faces))
    (whole,) = remnants(bare, ())
    assert (whole.longest, whole.spacing) == (13000, 6000)
    assert solve(bare) == solve(problem._replace(faces=tuple(f._replace(spacing=6000.0) for f in problem.faces)))


@pytest.mark.parametrize("seed", range(60))
def test_whatever_is_left_keeps_its_own_spacing(seed, oracle):
    """Random graphs, spacings by face: each piece with a place in it is within the least of its own faces' spacings."""
    rng = Random(seed)
    problem = oracle.random_problem(rng, rng.choice(oracle.SHAPES), candidates=14)
    faces = tuple(f._replace(spacing=rng.choice((5500.0, 7500.0, 12000.0))) for f in problem.faces)
    problem = problem._replace(faces=faces, spacing=min(f.spacing for f in faces))
    found = solve(problem)
    spacing = {f.id: f.spacing for f in faces}
    face, places = {e.id: e.face for e in problem.edges}, {e.id: e.candidates for e in problem.edges}
    for piece in remnants(problem, found.joints):
        least = min(spacing[face[name]] for name, span in piece.stretches if span.length > 0.02)
        assert piece.spacing == least
        inside = [c for name, s in piece.stretches for c in places[name] if s.start + 0.02 < c.at < s.end - 0.02]
        assert at_most(piece.longest, least) or not inside


@pytest.mark.parametrize("seed", range(40))
def test_a_piece_put_together_again_is_what_it_was_before_the_joint(seed, oracle):
    rng = Random(seed)
    problem = oracle.random_problem(rng, rng.choice(oracle.SHAPES), candidates=7)
    joints = [(e.id, c.at) for e in problem.edges for c in e.candidates if rng.random() < 0.6]
    pieces = remnants(problem, joints)
    edges, faces = {e.id: e for e in problem.edges}, {f.id: f for f in problem.faces}
    for joint in joints:
        beside = [p for p in pieces if joint in p.joints]
        again = rejoined(beside, joint, edges, faces, problem.spacing)
        before = remnants(problem, [j for j in joints if j != joint])
        (whole,) = [p for p in before if any(n == joint[0] and s.start < joint[1] < s.end for n, s in p.stretches)]
        assert again.longest == pytest.approx(whole.longest)
        assert (again.spacing, again.face) == (whole.spacing, whole.face)


def test_the_reason_names_the_material_that_governs():
    walls = [wall("W1", (0, 0), (7400, 0), "cs"), wall("W2", (7400, 0), (7400, 3300), "dense")]
    joints = joints_of(walls)
    assert joints
    assert all("exceeds 6 m (dense concrete governs)" in j.reason for j in joints)
    assert joints[0].basis[0] == "movement_joint.spacing.normal.dense_concrete"


def test_a_given_joint_beside_the_corner_frees_the_other_wall():
    """Calcium silicate may run 7.5 m, block 6 m (Pocket Book p.146): parted by a joint, given or found, neither needs more."""
    walls = [wall("W1", (0, 0), (7400, 0), "cs", joints=["place", {"at": 7100}]), wall("W2", (7400, 0), (7400, 5500), "dense")]
    assert [(j.leaf, j.at, j.given) for j in joints_of(walls)] == [("W1/outer", 7100, True)]
    _, _, plan = built([walls[0] | {"joints": "place"}, walls[1]])
    (joint,) = plan.joints
    assert joint.leaf == "W1/outer"
    assert 6900 < joint.at < 7400
    assert [(p.optimal, p.lower_bound) for p in plan.placements] == [(True, 1)]
    longer = [
        walls[0] | {"end": [7800, 0], "joints": ["place", {"at": 7510}]},
        walls[1] | {"start": [7800, 0], "end": [7800, 5500]},
    ]
    assert len(joints_of(longer)) == 2, "7.51 m of calcium silicate are too long"


def test_two_zones_of_one_leaf_the_stricter_governs():
    (joint,) = joints_of([wall("W1", (0, 0), (7300, 0), "plinth")])
    assert "exceeds 6 m (dense concrete governs)" in joint.reason
    assert joint.basis[0] == "movement_joint.spacing.normal.dense_concrete"


def with_a_stub(problem: Problem) -> Problem:
    """A short wall of block besides, which ends against the corner."""
    stub = Edge("C:0", "C/0", "n1", "n3", Span(0, 200))
    return problem._replace(edges=(*problem.edges, stub), faces=(*problem.faces, Face("C/0", stub.span, "stem", spacing=6000)))


def test_no_more_is_claimed_than_is_proven_where_faces_that_meet_differ():
    """One joint 250 mm into the clay would do: 12 m of it by itself, 5.75 m with the block. Held to 6 m there are more."""
    problem = with_a_stub(two_faces(12250, 5500, given=None))
    assert broken(problem, [("A:0", 12000)]) == ()
    found = solve(problem)
    claimed = proven(problem, found, plain)
    assert claimed.joints == found.joints
    assert len(found.joints) > 1
    assert (claimed.optimal, claimed.lower_bound) == (False, 1)
    parted = with_a_stub(two_faces(12250, 5500, given=12000))
    assert proven(parted, solve(parted), plain) == solve(parted)
    alike = problem._replace(faces=tuple(f._replace(spacing=6000.0) for f in problem.faces))
    assert proven(alike, solve(alike), plain) == solve(alike)


@pytest.mark.parametrize("seed", range(40))
def test_the_bound_of_unlike_faces_is_one(seed, oracle):
    """Of all subsets of the candidates that leave nothing too long, none is smaller than the bound."""
    rng = Random(seed)
    problem = oracle.random_problem(rng, rng.choice(oracle.SHAPES), candidates=8)
    faces = tuple(f._replace(spacing=rng.choice((5500.0, 12000.0)), panel=None, corner_reach=None) for f in problem.faces)
    problem = problem._replace(faces=faces, spacing=min(f.spacing for f in faces))
    given = {(e.id, c.at) for e in problem.edges for c in e.candidates if c.given}
    free = sorted({(e.id, c.at) for e in problem.edges for c in e.candidates} - given)
    subsets = (given | set(some) for k in range(len(free) + 1) for some in combinations(free, k))
    fewest = next((len(joints) for joints in subsets if not broken(problem, joints)), None)
    claimed = proven(problem, solve(problem), plain)
    assert fewest is None or claimed.lower_bound <= fewest
