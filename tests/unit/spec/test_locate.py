import json

from hypothesis import given, settings
from hypothesis import strategies as st

from elevgen.spec.locate import Lines, places

JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats(allow_nan=False) | st.text(),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(max_size=6), inner, max_size=4),
    max_leaves=12,
)


def leaves(value, path=()):
    yield path, value
    for step, inner in value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ():
        yield from leaves(inner, (*path, step))


@settings(max_examples=150, deadline=None, derandomize=True, database=None)
@given(value=JSON, indent=st.sampled_from([None, 0, 3]), ascii_only=st.booleans())
def test_the_text_at_every_path_reads_as_the_value_there(value, indent, ascii_only):
    text = json.dumps(value, indent=indent, ensure_ascii=ascii_only)
    found = places(text)
    expected = dict(leaves(value))
    assert found.values.keys() == expected.keys()
    for path, (start, end) in found.values.items():
        assert json.loads(text[start:end]) == expected[path]
    for path, (start, end) in found.keys.items():
        assert json.loads(text[start:end]) == path[-1]


def test_lines_and_columns_count_from_one():
    lines = Lines("ab\n\ncde\r\nf")
    assert [lines.at(offset) for offset in (0, 1, 2, 3, 4, 6, 9)] == [(1, 1), (1, 2), (1, 3), (2, 1), (3, 1), (3, 3), (4, 1)]


def test_something_missing_is_where_its_holder_is():
    found = places('{"a": {"b": 1}}')
    assert found.offset(("a", "c", "d")) == 6
    assert found.offset(("a", "b"), at_key=True) == 7
    assert found.offset(("x",), at_key=True) == 0
