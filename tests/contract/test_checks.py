"""What every check owes, run on whatever the checks folder holds."""

import re
from pathlib import Path

import pytest

from elevgen import checks, pipeline
from elevgen.core.discover import load_module, module_names
from elevgen.result import SEVERITIES
from elevgen.rules.keys import KEYS
from elevgen.rules.loader import load_book
from elevgen.spec.models import Override

STUDIO = Path(__file__).parents[2] / "specs" / "studio.json"
DUPLEX = Path(__file__).parents[1] / "data" / "duplex.json"
CHECKS = [load_module(checks, name) for name in module_names(checks)]


@pytest.fixture(scope="module")
def findings():
    return pipeline.design_file(STUDIO).findings


def test_codes_are_unique_and_the_listed_ones():
    codes = [check.CODE for check in CHECKS]
    assert len(set(codes)) == len(codes)
    assert set(codes) <= set(checks.codes())


@pytest.mark.parametrize("check", CHECKS, ids=lambda c: c.CODE)
def test_file_code_title_and_rationale(check):
    assert check.__name__.rsplit(".", 1)[1].replace("_", "-") == check.CODE
    assert re.fullmatch(r"[a-z]+(-[a-z]+)*", check.CODE)
    assert check.TITLE
    assert len(check.RATIONALE.split()) >= 8


@pytest.mark.parametrize("check", CHECKS, ids=lambda c: c.CODE)
def test_every_check_says_something(check, findings):
    """Silence would read as a pass: each check yields at least a pass, or says what it could not check."""
    if check.CODE in ("unused-waiver",):
        pytest.skip("speaks only of waivers")
    asked_by = getattr(check, "ASKED_BY", ("",))
    has_rule = any(key.startswith(asked_by) for key in load_book("uk").values)
    assert any(f.code == check.CODE for f in findings) == has_rule


@pytest.mark.parametrize("check", [c for c in CHECKS if hasattr(c, "ASKED_BY")], ids=lambda c: c.CODE)
def test_a_check_of_what_only_some_rule_sets_ask_speaks_where_one_does(check):
    """It names the beginnings of the keys that ask for it: with the first of them given a value it has something to say."""
    key = KEYS[min(name for name in KEYS if name.startswith(check.ASKED_BY))]
    given = {"number": 1, "word": (key.choices or ("",))[0]}[key.kind]
    override = Override(rule=key.key, value=given, reason="a try", by="test")
    spec = pipeline.load(STUDIO)
    spec = spec.model_copy(update={"overrides": (*spec.overrides, override)})
    assert any(f.code == check.CODE for f in pipeline.design(spec).findings)


def test_findings_are_worst_first_with_their_own_ids(findings):
    ranks = [SEVERITIES.index(f.severity) for f in findings]
    assert ranks == sorted(ranks)
    assert len({f.id for f in findings}) == len(findings)


@pytest.mark.parametrize("spec", [STUDIO, DUPLEX], ids=lambda p: p.stem)
def test_what_a_finding_is_about_are_ids_of_the_building(spec):
    design = pipeline.design_file(spec)
    wall_of = {leaf.id: leaf.wall for leaf in design.building.leaves}
    openings = {opening.id: wall.id for wall in design.building.walls for opening in wall.openings}
    joints = {joint.id: joint.leaf for joint in design.plan.joints}
    for finding in design.findings:
        assert set(finding.walls) <= {wall.id for wall in design.building.walls}, finding.id
        assert set(finding.leaves) <= set(wall_of), finding.id
        assert all(openings[opening] in finding.walls for opening in finding.openings), finding.id
        assert all(joints[joint] in finding.leaves for joint in finding.joints), finding.id
        if finding.walls and finding.leaves:
            assert {wall_of[leaf] for leaf in finding.leaves} == set(finding.walls), finding.id


@pytest.mark.parametrize("spec", [STUDIO, DUPLEX], ids=lambda p: p.stem)
def test_a_finding_on_a_sheet_names_what_it_is_about(spec):
    """What fails or warns is about a leaf or a wall, so that it comes to somebody's sheet; its text holds no rule keys."""
    for finding in pipeline.design_file(spec).findings:
        if finding.severity in ("fail", "warn"):
            assert finding.walls or finding.leaves, finding.id
            assert not re.search(r"[a-z]_[a-z]|[a-z]\.[a-z]", finding.text), finding.text
            assert not re.search(r"\b1 [a-z]+s\b", finding.text), finding.text


def test_a_broken_limit_carries_its_source():
    broken = [f for f in pipeline.design_file(DUPLEX).findings if f.severity in ("fail", "warn") and f.operator in ("<=", ">=")]
    assert len(broken) > 10
    for finding in broken:
        assert finding.source is not None, finding.id
