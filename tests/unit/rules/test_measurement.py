"""Presets as they are asked: limits, rounding, bands, and the user's own figures before them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from elevgen.rules.measurement import GIVEN, MeasurementRules, half_up, value_words
from elevgen.rules.measurement_loader import load_measurement


@pytest.mark.parametrize(
    ("value", "step", "rounded"),
    [(2.5, 1, 3), (2.4999, 1, 2), (3.5, 1, 4), (1345, 10, 1350), (1344.99, 10, 1340), (0.125, 0.01, 0.13), (1.005, 0.01, 1.01)],
)
def test_halves_go_upwards(value, step, rounded):
    assert half_up(value, step) == rounded


@given(st.integers(0, 10**7), st.sampled_from([1, 5, 10, 25]))
def test_what_lies_on_a_step_stays_and_nothing_moves_more_than_half(value, step):
    assert half_up(value * step, step) == value * step
    assert abs(half_up(value, step) - value) <= step / 2


def test_what_would_vanish_is_1_only_where_the_rules_say_so():
    keeps, silent = load_measurement("nrm2-like"), load_measurement("smm7-like")
    assert [keeps.billed(x, "m2") for x in (0.0, 0.2, 0.5, 1.4, 1.5)] == [0, 1, 1, 1, 2]
    assert [silent.billed(x, "m2") for x in (0.0, 0.2, 0.5, 1.4, 1.5)] == [0, 0, 1, 1, 2]
    assert load_measurement("is1200-like").billed(7.4651, "m2") == 7.47
    assert load_measurement("net").billed(7.46513, "m2") == 7.46513
    assert load_measurement("pomi-like").billed(7.46513, "m2") == 7.46513


def test_the_users_figures_come_before_those_of_the_preset():
    rules = load_measurement("nrm2-like", {"opening_min_area_m2": 1.0, "keep_at_least_one": False, "qty_round_m2": 0.1})
    assert rules.opening_limit == 1.0
    assert (rules.billed(0.04, "m2"), rules.billed(0.2, "m2"), rules.billed(1.7, "m")) == (0.0, 0.2, 2)
    rows = {row.name: row for row in rules.parameters()}
    assert (rows["opening_min_area_m2"].value, rows["opening_min_area_m2"].known) == ("1 m2", GIVEN)
    assert rows["keep_at_least_one"].value == "no"
    assert not {"measurement.opening_min_area_m2", "measurement.keep_at_least_one"} & {value.key for value in rules.used}
    assert "given in the spec" in rules.words()


def test_one_step_of_the_users_own_replaces_every_step_of_the_preset():
    assert load_measurement("is1200-like", {"qty_round": 0.0}).step("m3") is None
    assert load_measurement("net", {"qty_round": 1.0, "qty_round_m3": 0.01}).step("m3") == 0.01


def test_a_preset_nothing_of_which_is_from_memory_any_more_does_not_say_so():
    own = {"opening_min_area_m2": 0.5, "wall_unit": "m2"}
    assert "from memory" not in load_measurement("pomi-like", own).words()
    assert "from memory" in load_measurement("pomi-like", {"wall_unit": "m2"}).words()


def test_bands_take_in_their_upper_ends():
    rules = load_measurement("cesmm4-like")
    said = [rules.band(t) for t in (102.5, 150, 150.5, 250, 251, 1000, 1001)]
    assert said == [
        "up to 150 mm thick",
        "up to 150 mm thick",
        "over 150 mm, up to 250 mm thick",
        "over 150 mm, up to 250 mm thick",
        "over 250 mm, up to 500 mm thick",
        "over 500 mm, up to 1000 mm thick",
        "over 1000 mm, 1001 mm thick",
    ]
    assert load_measurement("net").band(102.5) == ""


def test_walls_thicker_than_half_brick_are_measured_by_volume_where_the_rules_say_so():
    rules = load_measurement("is1200-like")
    assert [rules.in_cubic_metres(t) for t in (102.5, 115, 115.5, 215)] == [False, False, True, True]
    assert not load_measurement("nrm2-like").in_cubic_metres(440)
    assert load_measurement("net", {"wall_unit": "m3", "half_brick_most_mm": 90.0}).in_cubic_metres(100)


def test_what_is_not_known_is_treated_as_by_net():
    rules = MeasurementRules()
    assert (rules.opening_limit, rules.at_edge_always, rules.dimension_step, rules.on_centre_line) == (0.0, None, None, False)
    assert (rules.step("m2"), rules.column_order, rules.used) == (None, "qty-unit", ())


def test_values_are_said_in_words():
    assert value_words("dim_round_mm", 10.0) == "10 mm"
    assert value_words("dim_round_mm", 0.0) == "nothing, they are not rounded"
    assert value_words("opening_min_area_m2", 0.0) == "none, every opening is deducted"
    assert value_words("wall_measured_on", "centre_line") == "the centre line of each leaf"
    assert value_words("thickness_bands_mm", (150.0, 250.0)) == "150, 250 mm"
