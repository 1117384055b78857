"""Remedies: each is written into the spec as it says, the building is designed again, and the trouble must be gone."""

import json
import re
from copy import deepcopy
from pathlib import Path
from random import Random

import pytest
from plans import LEAVES, UNITS, wall

from elevgen.pipeline import design
from elevgen.spec.models import Spec

DATA = Path(__file__).parents[2] / "data"


def given(walls, *, cavity=("brick", "aircrete"), **more):
    types = {name: {"outer": name} for name in LEAVES}
    types["cavity"] = {"outer": cavity[0], "inner": cavity[1], "cavity": 100}
    return {"spec": 1, "units": UNITS, "leaves": deepcopy(LEAVES), "wall_types": types, "walls": walls} | more


def window(name, at, width, sill=900, height=1200):
    return {"id": name, "kind": "window", "at": at, "width": width, "sill": sill, "height": height}


def edited(spec, what):
    """The spec with one edit made, as a remedy writes it."""
    spec = deepcopy(spec)
    for line in what:
        if found := re.fullmatch(r"leaves\.(\w+)\.reinforced_every = (\d+)", line):
            spec["leaves"][found[1]]["reinforced_every"] = float(found[2])
        elif found := re.fullmatch(r"openings\.([\w-]+)\.at = ([\d.]+)", line):
            (opening,) = [o for w in spec["walls"] for o in w.get("openings", ()) if o["id"] == found[1]]
            opening["at"] = float(found[2])
        else:
            found = re.fullmatch(r"junctions \+ (\S+) (\S+)( outer| inner)? = jointed", line)
            junction = {"walls": [found[1], found[2]], "connection": "jointed"}
            junction |= {"leaf": found[3].strip()} if found[3] else {}
            spec["junctions"] = [*spec.get("junctions", ()), junction]
    return spec


def designed(spec):
    return design(Spec.model_validate(spec))


def relaxed(spec):
    return [r for p in designed(spec).plan.placements for r in p.relaxed]


def leaves_of(one):
    return {part.split()[0] for part in one.where.split(", ")}


def same(one, other):
    """Whether two entries are about one rule (reinforced or not) in the same leaves."""
    kinds = [r.rule.split(".")[1] for r in (one, other)]
    return kinds[0] == kinds[1] and leaves_of(one) & leaves_of(other)


def verify(spec):
    """Every remedy of a spec, made: what it mends is gone, and nothing comes in its place. Returns the kinds seen."""
    before, kinds = relaxed(spec), []
    for entry in before:
        assert entry.remedies is not None
        kinds.append([remedy.kind for remedy in entry.remedies])
        for remedy in entry.remedies:
            after = relaxed(edited(spec, remedy.what))
            spans = [(leaf, float(a), float(b)) for leaf, a, b in re.findall(r"(\S+) ([\d.]+) to ([\d.]+)", entry.where)]
            left = [r for r in after if same(r, entry)]
            for r in left:
                for leaf, a, b in re.findall(r"(\S+) ([\d.]+) to ([\d.]+)", r.where):
                    assert not any(leaf == at and float(a) < v - 0.1 and u < float(b) - 0.1 for at, u, v in spans), (remedy, r)
            assert all(any(same(r, old) for old in before) for r in after), (remedy, after)
            assert len(after) < len(before)
    return kinds


def test_the_duplex_has_two_pieces_that_reinforced_beds_mend():
    """tests/data/duplex.json: inner leaf of dense blocks 193 thick, 12.79 m in one piece, 6 m allowed; 14 m with beds at 450."""
    spec = json.loads((DATA / "duplex.json").read_text())
    before = relaxed(spec)
    pieces = [r for r in before if "spacing" in r.rule]
    assert [round(r.measured) for r in pieces] == [12794, 12794]
    assert [[remedy.what for remedy in r.remedies] for r in pieces] == [[("leaves.block.reinforced_every = 450",)]] * 2
    verify(spec)


def test_in_the_duplex_no_corner_and_no_opening_would_have_done():
    """By hand: every pair of corners of the inner leaf jointed, and every column of openings moved, leaves a piece too long."""
    spec = json.loads((DATA / "duplex.json").read_text())
    for pair in (["W1", "W2"], ["W4", "W1"]):
        after = relaxed(edited(spec, [f"junctions + {pair[0]} {pair[1]} inner = jointed"]))
        assert any("spacing" in r.rule and "W1/inner" in r.where for r in after)
    both = ["junctions + W1 W2 inner = jointed", "junctions + W4 W1 inner = jointed"]
    assert any("spacing" in r.rule and "W1/inner" in r.where for r in relaxed(edited(spec, both)))


def ribbon():
    """14.9 m of brick, with windows from 1.15 m of one end to 1.01 m of the other and piers too narrow for a joint between."""
    return window("N1", 1150, 6050), window("N2", 7500, 6390)


def test_a_ribbon_of_windows_is_mended_by_moving_the_least():
    """Pier of 300 between two windows; a joint of 16 with a bearing of 150 on both sides needs 316: 25 mm more."""
    spec = given([wall("W1", [0, 0], [14900, 0], openings=ribbon())])
    (kinds,) = verify(spec)
    assert kinds == ["reinforced beds", "moved opening"]
    (entry,) = relaxed(spec)
    moved = entry.remedies[-1]
    assert moved.words in (
        "move window N1 25 mm to the left, seen from outside",
        "move window N2 25 mm to the right, seen from outside",
    )


def smallest_move(spec, rule):
    """The smallest move of one opening that mends everything, by designing with every one of them."""
    for n in range(25, 625, 25):
        for w in spec["walls"]:
            for o in w.get("openings", ()):
                for by in (-n, n):
                    moved = edited(spec, [f"openings.{o['id']}.at = {o['at'] + by}"])
                    others = [p for p in w["openings"] if p["id"] != o["id"]]
                    at, end = o["at"] + by, o["at"] + by + o["width"]
                    if any(at < p["at"] + p["width"] and p["at"] < end for p in others):
                        continue
                    if not any(r.rule == rule for r in relaxed(moved)):
                        return n
    return None


@pytest.mark.parametrize(("gap", "expected"), [(90, 225), (245, 75), (290, 25)])
def test_no_smaller_move_would_do(gap, expected):
    """Dense blocks 100 thick, 6 m allowed: the pier between two openings, off the middle, is too narrow by different amounts."""
    openings = [window("N1", 320, 3710), window("N2", 4030 + gap, 2270)]
    spec = given([wall("W1", [0, 0], [6620 + gap, 0], "dense", openings=openings, top=2400)])
    entries = [entry for entry in relaxed(spec) if "spacing" in entry.rule]
    verify(spec)
    for entry in entries:
        moved = [r for r in entry.remedies if r.kind == "moved opening"]
        least = smallest_move(spec, entry.rule)
        assert int(re.search(r"(\d+) mm to the", moved[0].words)[1]) == least == expected
    assert len(entries) == 1


def solid(length, name, pier=330):
    """An opening that leaves no place for a joint along a wall."""
    return [window(name, pier, length - 2 * pier)]


def test_a_corner_jointed_mends_two_walls_round_it():
    """7.3 and 4.9 m of clay without a place: 12.2 m in one piece round the corner."""
    walls = [
        wall("W1", [0, 0], [7300, 0], openings=solid(7300, "N1", 200)),
        wall("W2", [7300, 0], [7300, 4900], openings=solid(4900, "N2", 200)),
    ]
    spec = given(walls)
    (kinds,) = verify(spec)
    assert kinds[:2] == ["reinforced beds", "jointed meeting"]
    (entry,) = relaxed(spec)
    assert entry.remedies[1].words == "make the corner of W1 and W2 a movement joint"
    assert entry.remedies[1].what == ("junctions + W1 W2 = jointed",)


def test_a_tee_jointed_mends_what_goes_through_it():
    """5.3 m of dense block with a wall of 3.4 m tied in off the middle: 6.7 m the longest way, no places."""
    walls = [
        wall("W1", [0, 0], [5300, 0], "dense", openings=[window("N1", 240, 2300), window("N2", 3050, 2010)], top=2500),
        wall("P1", [2800, 100], [2800, 3950], "dense", line="centre", openings=[window("N3", 330, 3200)], top=2500),
    ]
    spec = given(walls)
    kinds = verify(spec)
    assert any("jointed meeting" in k for k in kinds)
    words = [r.words for entry in relaxed(spec) for r in entry.remedies if r.kind == "jointed meeting"]
    assert words[0] == "make the meeting of W1 and P1 a movement joint"


def test_inner_leaf_alone_is_jointed():
    walls = [
        wall("W1", [0, 0], [5300, 0], "cavity", openings=solid(5300, "N1"), line=None),
        wall("W2", [5300, 0], [5300, 4700], "cavity", openings=solid(4700, "N2"), line=None),
    ]
    spec = given(walls)
    verify(spec)
    entries = relaxed(spec)
    assert all("inner" in e.where for e in entries if "spacing" in e.rule)
    whats = [r.what for e in entries if "spacing" in e.rule for r in e.remedies if r.kind == "jointed meeting"]
    assert whats == [("junctions + W1 W2 inner = jointed",)]


def openings_close_together(rng, length, prefix):
    """Openings with piers from too narrow to build to just too narrow for a joint."""
    at, found = rng.randint(100, 400), []
    while at < length - 900:
        width = min(rng.randint(700, 3500), length - at - rng.randint(100, 350))
        found.append(window(f"{prefix}{len(found)}", at, width))
        at += width + rng.choice([90, 180, 225, 260, 290, 310])
    return found


def test_in_random_buildings_every_remedy_does_what_it_says():
    kinds = set()
    for seed in range(24):
        rng = Random(seed)
        leaf, limit = rng.choice([("dense", 6000), ("brick", 12000), ("cs", 7500), ("cavity", 6000)])
        a, b = int(limit * rng.uniform(0.6, 1.2)), int(limit * rng.uniform(0.3, 0.7))
        more = {"line": None} if leaf == "cavity" else {}
        walls = [wall("W1", [0, 0], [a, 0], leaf, openings=openings_close_together(rng, a, "A"), top=2600, **more)]
        if seed % 3:
            walls.append(wall("W2", [a, 0], [a, b], leaf, openings=openings_close_together(rng, b, "B"), top=2600, **more))
        kinds.update(kind for entry in verify(given(walls)) for kind in entry)
    assert kinds == {"reinforced beds", "jointed meeting", "moved opening"}


def test_nothing_is_looked_for_where_all_joints_are_given():
    spec = given([wall("W1", [0, 0], [14300, 0], joints=[])])
    (entry,) = relaxed(spec)
    assert entry.remedies is None


def test_where_nothing_cheap_helps_the_finding_says_so():
    """Stone has no longer spacing, one wall no corner, and the opening is as long as the wall but for its ends."""
    spec = given([wall("W1", [0, 0], [9200, 0], "stone", openings=solid(9200, "N1"))])
    found = [f for f in designed(spec).findings if f.code == "placement-relaxed" and f.severity == "warn"]
    assert found
    assert all(f.text.endswith("; no cheap change was found by which it would be kept") for f in found)


def test_the_finding_names_them_in_order():
    spec = given([wall("W1", [0, 0], [14900, 0], openings=ribbon())])
    (found,) = [f for f in designed(spec).findings if f.code == "placement-relaxed" and f.severity == "warn"]
    assert re.search(r"; to keep it, reinforce .* of every leaf built as brick: .*, or move window N\d 25 mm", found.text)


def test_trying_changes_leaves_no_trace_in_the_rules_used():
    spec = given([wall("W1", [0, 0], [14900, 0], openings=ribbon())])
    assert not any("reinforced_" in value.key for value in designed(spec).rules_used)
