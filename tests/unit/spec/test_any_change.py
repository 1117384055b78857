"""Whatever is done to a spec, it loads or says what is wrong, and where, in words of our own."""

import json
import re
from copy import deepcopy

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from listed import listed

from elevgen.core.errors import SpecError
from elevgen.spec.load import parse_text

JARGON = re.compile(
    r"pydantic|validation|Input should|Traceback|tuple|dict\b|\bstr\b|NoneType|https?:|function-|is not right here", re.IGNORECASE
)
USERS_WORDS = re.compile(r"\"(?:[^\"\\]|\\.)*\"")
QUICK = settings(
    max_examples=150, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture], derandomize=True, database=None
)

WORDS = st.sampled_from(["W1", "facing", "place", "inner", "uk", "1 m", "9' 2\"", "clay", "at", "", "é", "\u202e", "\x07"])
NUMBERS = st.sampled_from([0, -1, 0.001, 2.7, 7, 910, 1e5, 1e12, -1e300, 10**30])
VALUES = st.recursive(
    st.none() | st.booleans() | NUMBERS | WORDS | st.text(max_size=5),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(WORDS, inner, max_size=2),
    max_leaves=5,
)


def all_paths(value, path=()):
    yield path
    steps = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for step, inner in steps:
        yield from all_paths(inner, (*path, step))


def changed(spec, path, how, value, word):
    if not path:
        return value
    spec = deepcopy(spec)
    holder = spec
    for step in path[:-1]:
        holder = holder[step]
    if how == "replace":
        holder[path[-1]] = value
    elif how == "remove":
        del holder[path[-1]]
    elif isinstance(holder, dict):
        holder[word] = value
    else:
        holder.insert(0, value)
    return spec


def check(text, vocabulary):
    try:
        parse_text(text, "a.json", vocabulary)
    except SpecError as error:
        assert error.faults
        lines = text.split("\n")
        for fault in error.faults:
            assert 1 <= fault.line <= len(lines)
            here = lines[fault.line - 1][fault.column - 1 :]
            assert fault.column <= len(lines[fault.line - 1]) + 1
            assert not JARGON.search(USERS_WORDS.sub("", fault.message + fault.allowed)), fault
            told = fault.given.removesuffix("...")
            opening = {"a list": "[", "an object": "{", "": ""}.get(told, told)
            assert here.startswith(opening), fault
            (fault.where + fault.message + fault.given + fault.nearest).encode("utf-8")
        places = [(f.line, f.column) for f in error.faults]
        assert places == sorted(places)


@QUICK
@given(data=st.data(), indent=st.sampled_from([None, 1]), ascii_only=st.booleans())
def test_changed_values(data, indent, ascii_only, good, vocabulary):
    spec = json.loads(good)
    if data.draw(st.booleans()):
        spec = listed(spec)
    for _ in range(data.draw(st.integers(1, 4))):
        path = data.draw(st.sampled_from(sorted(all_paths(spec), key=str)))
        how = data.draw(st.sampled_from(["replace", "remove", "add"]))
        spec = changed(spec, path, how, data.draw(VALUES), data.draw(WORDS))
    check(json.dumps(spec, indent=indent, ensure_ascii=ascii_only), vocabulary)


@QUICK
@given(data=st.data())
def test_changed_text(data, good, vocabulary):
    text = good
    for _ in range(data.draw(st.integers(1, 3))):
        at = data.draw(st.integers(0, len(text)))
        gone = data.draw(st.integers(0, 4))
        put = data.draw(
            st.sampled_from(["", "{", "}", "[", "]", ",", ":", '"', "\\", "1", "-", "e", "NaN", "\n", "\u00e9", "\\ud800"])
        )
        text = text[:at] + put + text[at + gone :]
    check(text, vocabulary)
