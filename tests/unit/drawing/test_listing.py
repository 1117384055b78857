"""Words for lists say what they were given, no more and no less."""

from random import Random

import pytest
from reading import courses_of, places_of

from elevgen.core.figures import FeetAndInches, Metric
from elevgen.drawing.listing import number_rows, numbers, place_rows, places, varying


def test_course_numbers_are_said_short() -> None:
    assert numbers([24]) == "24"
    assert numbers([25, 24]) == "24, 25"
    assert numbers([4, 5, 6, 7, 12]) == "4-7, 12"
    assert numbers([3, 6, 9, 12, 15, 18, 21, 24]) == "3, 6, 9 … 24"
    assert numbers([9, 10, 17, 18]) == "9, 10, 17, 18"
    assert numbers([2, 5, 8]) == "2, 5, 8"
    assert numbers([]) == ""


@pytest.mark.parametrize("seed", range(40))
def test_course_numbers_read_back(seed: int) -> None:
    random = Random(seed)
    step = random.choice([1, 1, 2, 3, 6])
    given = {n for n in range(random.randint(1, 9), 95, step) if random.random() < 0.8} | {random.randint(1, 99)}
    assert courses_of(numbers(given)) == sorted(given)
    assert [n for row in number_rows(given) for n in row] == sorted(given)


@pytest.mark.parametrize("seed", range(60))
def test_places_read_back_to_the_millimetre(seed: int) -> None:
    """Courses as bonds lay them, with places left out, and a tape that starts anywhere."""
    random = Random(seed)
    bonds = ([224.8], [449.7], [112.4, 224.9], [224.9, 224.9, 112.4], [225, 225, 225, 112.5], [112.5])
    steps, at = random.choice(bonds), random.uniform(0, 500)
    given: list[float] = []
    for n in range(random.randint(0, 70)):
        at += steps[n % len(steps)]
        if random.random() < 0.93:
            given.append(at)
    for longest in (1, 4):
        assert places_of(places(Metric(), given, longest)) == pytest.approx(given, abs=0.51)
    assert [at for row in place_rows(given) for at in row.at] == given


def test_steps_that_repeat_are_said_once() -> None:
    assert places(Metric(), [225, 1125, 2025, 2925]) == "225, then every 900 to 2925"
    assert places(Metric(), [112.0, 337, 449.5, 674.5, 787, 1012], 4) == "112, then by turns 225 and 112.5 to 1012"
    assert places(Metric(), [225, 450, 700]) == "225; 450; 700"
    assert places(FeetAndInches(), [203.2, 406.4, 609.6, 812.8]) == '8", then every 8" to 2\' 8"'


def test_what_differs_from_course_to_course() -> None:
    assert varying({}) == ""
    assert varying({"2250": [29, 30]}) == "2250"
    assert varying({"none": [6, 18], "3812": [12]}) == "none on 6, 18; 3812 on 12"
