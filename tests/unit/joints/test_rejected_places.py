"""Other places a joint might have stood: each is moved there and priced by the oracle, which knows nothing of the words."""

from random import Random

import pytest
from plans import built, spec_of, wall

from elevgen.building.demand import lintel_demands
from elevgen.building.resolve import resolve
from elevgen.building.trace import trace
from elevgen.joints.place import place
from elevgen.joints.solve import solve
from elevgen.joints.survey import survey
from elevgen.pipeline import design
from elevgen.rules.book import RuleReader
from elevgen.rules.loader import load_book

ILLEGAL = ("in one piece", "of the corner", "from the corner, ", "allowed by its height")
BLOCKED = ("in window", "in door", "in the bearing", "against the side", "meets the wall", "bond of the corner", "half a unit")
LIKED_LESS = {2: "liked", 3: "not hidden", 4: "less even", 5: "off the bond"}


def opening(name, at, width=1200, kind="window", sill=900, height=1200):
    return {"id": name, "kind": kind, "at": at, "width": width, "sill": sill, "height": height}


def plan_of(rng, shape):
    """A plan of unequal walls with windows, downpipes and a tee here and there."""
    a, b, c = rng.randint(9000, 17000), rng.randint(4000, 11000), rng.randint(3500, 9000)

    def dressed(length, prefix):
        spots = sorted(rng.sample(range(900, length - 1900, 350), k=min(2, max(1, length // 5000))))
        windows, free = [], 0
        for n, at in enumerate(spots):
            if at >= free:
                windows.append(opening(f"{prefix}{n}", at, rng.choice([600, 910, 1210]), rng.choice(["window", "door"])))
                free = at + 2000
        pipes = [{"kind": "downpipe", "at": rng.randint(700, length - 700)}] if rng.random() < 0.6 else []
        return {"openings": windows, "features": pipes}

    walls = [wall("W1", [0, 0], [a, 0], **dressed(a, "A"))]
    if shape != "one wall":
        walls.append(wall("W2", [a, 0], [a, b], **dressed(b, "B")))
    if shape == "ell with tee":
        walls.append(wall("P1", [a * 0.4, 102.5], [a * 0.4, c], line="centre"))
    if shape == "re-entrant":
        walls.append(wall("W3", [a, b], [a + c, b], **dressed(c, "C")))
    return walls


def surveyed(walls, leaf="brick"):
    spec = spec_of([w | {"type": leaf} for w in walls])
    reader = RuleReader(load_book(spec.rules, spec.overrides))
    building = resolve(spec, reader)
    (run,) = trace(building)
    return survey(run, building, lintel_demands(building, reader), reader), place(building, (run,), reader)


def on_edge(found, leaf, at):
    """The edge of a leaf at a place, and the candidate there if it is one."""
    edge = next(e for e in found.problem.edges if found.leaves[e.id] == leaf and e.span.contains(at))
    return edge, next((c for c in edge.candidates if abs(c.at - at) < 0.001), None)


@pytest.mark.parametrize("shape", ["one wall", "ell", "ell with tee", "re-entrant"])
@pytest.mark.parametrize("leaf", ["brick", "dense"])
def test_the_oracle_agrees_with_every_reason(oracle, shape, leaf):
    seen = set()
    for seed in range(30):
        rng = Random(f"{shape}{leaf}{seed}")
        found, plan = surveyed(plan_of(rng, shape), leaf)
        joints = set(solve(found.problem, found.off_bond).joints)
        if any(p.relaxed for p in plan.placements) or not all(on_edge(found, found.leaves[e], at)[1] for e, at in joints):
            continue  # the oracle has no price for broken rules, nor for joints off the candidates
        best = oracle.price(found.problem, joints)
        for joint in plan.joints:
            mine = next((e, at) for e, at in joints if found.leaves[e] == joint.leaf and abs(at - joint.at) < 0.001)
            assert len(joint.rejected) <= 3
            for other in joint.rejected:
                edge, candidate = on_edge(found, joint.leaf, other.at)
                if candidate is None:
                    assert not any(s.start + 0.1 < other.at < s.end - 0.1 for s in edge.free) or "perpend" in other.why
                    assert any(words in other.why for words in BLOCKED), other
                    seen.add("blocked")
                    continue
                price = oracle.price(found.problem, joints - {mine} | {(edge.id, candidate.at)})
                first = (
                    None if price is None else next((k for k, (x, y) in enumerate(zip(price, best, strict=True)) if x != y), None)
                )
                seen.add("illegal" if price is None else first)
                if price is None or first == 0:
                    assert any(words in other.why for words in ILLEGAL), (other, price)
                elif first is None:
                    assert "just as good" in other.why
                else:
                    assert price > best, (seed, other)
                    assert LIKED_LESS[first] in other.why, (other, price, best)
    assert {"illegal", 2}.issubset(seen) if leaf == "dense" else "illegal" in seen


def test_a_downpipe_too_far_along_is_named_with_what_it_would_leave():
    _, _, plan = built([wall("W1", [0, 0], [15100, 0], features=[{"kind": "downpipe", "at": 2490}])])
    (joint,) = plan.joints
    hidden = joint.rejected[0]
    assert abs(hidden.at - 2490) <= 107.5
    left = (15100 - hidden.at) / 1000
    assert (
        hidden.why == f"behind the downpipe at {hidden.at / 1000:.2f} m: leaves {round(left, 2):g} m in one piece, 12 m allowed"
    )


def test_beside_a_window_the_room_and_what_is_liked_are_said():
    _, _, plan = built([wall("W1", [0, 0], [15100, 0], openings=[opening("N7", 8600)])])
    (joint,) = plan.joints
    beside = next(r for r in joint.rejected if "beside window N7" in r.why)
    room = 8600 - beside.at - 8
    assert 100 <= room < 675
    assert beside.why.endswith(f"to the right, beside window N7: {room:.0f} mm from its side, 675 liked")
    assert f"{beside.at - joint.at:.0f} mm to the right" in beside.why or f"{(beside.at - joint.at) / 1000:.2f} m" in beside.why


def test_the_middle_in_a_window_and_the_lintel_beside_it():
    _, _, plan = built([wall("W1", [0, 0], [15100, 0], openings=[opening("N7", 7000)])])
    (joint,) = plan.joints
    assert "at 7.55 m, in the middle of the stretch: in window N7" in [r.why for r in joint.rejected]


def test_two_unequal_walls_would_be_less_even():
    """Hidden behind the pipe at 6.3 m, the middle of 15.1 m is no longer hidden."""
    _, _, plan = built([wall("W1", [0, 0], [15100, 0], features=[{"kind": "downpipe", "at": 6300}])])
    (joint,) = plan.joints
    (middle,) = joint.rejected
    assert middle.why.endswith("in the middle of the stretch: not hidden, as it is behind the downpipe")


def test_joints_that_were_given_or_must_stand_have_none():
    _, _, plan = built(
        [wall("W1", [0, 0], [23450, 0], joints=[{"at": 9150}, "place"], top=[[0, 5000], [4000, 5000], [4000, 3000]])]
    )
    assert len(plan.joints) >= 2
    stands = [j for j in plan.joints if j.given or "steps" in j.reason]
    assert len(stands) == 2
    assert all(j.rejected == () for j in stands)


def test_the_same_plan_says_the_same(tmp_path):
    walls = plan_of(Random("again"), "re-entrant")
    first, second = (design(spec_of(walls)) for _ in range(2))
    assert [j.rejected for j in first.plan.joints] == [j.rejected for j in second.plan.joints]
    assert any(j.rejected for j in first.plan.joints)
