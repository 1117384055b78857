"""What is fitted is judged by the checks: ordinary walls must not fail them, and what cannot be kept is said with its reason."""

from collections.abc import Callable

import pytest
from buildings import SEEDS

from elevgen.result import Design

FITTED = (
    "opening-reinforced",
    "low-lap-reinforced",
    "parapet-reinforced",
    "reinforcement-all-over",
    "reinforcement-crosses-joint",
    "reinforcement-in-bed",
    "reinforcement-lap",
    "reinforcement-stock",
    "stack-bond",
    "tie-density",
    "tie-in-beds",
    "tie-near-joint-and-reveal",
    "tie-spacing",
)


@pytest.mark.parametrize("building", ["studio", "duplex", *SEEDS])
def test_no_fitting_fails_its_own_check(design_of: Callable[..., Design], building: str | int) -> None:
    findings = design_of(building).findings
    assert [f"{f.id}: {f.text}" for f in findings if f.code in FITTED and f.severity == "fail"] == []
    assert {f.code for f in findings if f.code in FITTED} & {"opening-reinforced", "tie-density"}


def test_lintels_fail_only_where_a_joint_as_given_takes_their_bearing(design_of: Callable[..., Design]) -> None:
    for seed in SEEDS:
        design = design_of(seed)
        short = [f for f in design.findings if f.code == "lintel-bearing" and f.severity == "fail"]
        cut = {o for f in design.findings if f.code == "joint-in-opening" and f.severity == "fail" for o in f.openings}
        assert all(set(f.openings) <= cut for f in short), seed
