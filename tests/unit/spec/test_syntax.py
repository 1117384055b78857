"""Files that are not a spec at all: not text, not JSON, or JSON that says a thing twice."""

import pytest

from elevgen.core.errors import SpecError
from elevgen.spec.load import load_file, parse_text


def faults_of(text, vocabulary):
    with pytest.raises(SpecError) as caught:
        parse_text(text, "a.json", vocabulary)
    return caught.value.faults


@pytest.mark.parametrize(
    ("text", "words", "line", "column"),
    [
        ("", "empty", 1, 1),
        (" \n ", "empty", 1, 1),
        ('{"spec": 1,\n "rules": "uk",\n}', "a comma with nothing after it", 2, 15),
        ('{"walls": [1,\n 2, ]}', "a comma with nothing after it", 2, 3),
        ('{"spec": 1\n "rules": "uk"}', "a comma or a closing bracket", 2, 2),
        ('{"spec" 1}', "colon", 1, 9),
        ("{'spec': 1}", "a key in double quotes is expected here; text takes double quotes", 1, 2),
        ("{\"rules\":\n  'uk'}", "a value is expected here; text takes double quotes", 2, 3),
        ('{"spec": 1, // one\n "a": 2}', "no comments", 1, 13),
        ('{"spec": True}', "a value is expected", 1, 10),
        ('{"spec": 1} {}', "after the end", 1, 13),
        ('{"project": {"title": "a\nb"}}', "line break", 1, 25),
        ('{"project": {"title": "C:\\site"}}', "written twice", 1, 26),
        ('{"project": {"title": "abc}}', "closing double quote", 1, 23),
        ('{"project": {"title": "abc"', "ends too early", 1, 28),
        ('{"project": {"title": "\\ud83d"}}', "half of a", 1, 23),
        ('{"a":' + "[" * 2000 + "]" * 2000 + "}", "too deeply", 1, 55),
        ('{"spec": 1' + "0" * 5000 + "}", "thousands of digits", 1, 10),
    ],
)
def test_faults_of_syntax_in_plain_words(text, words, line, column, vocabulary):
    (fault,) = faults_of(text, vocabulary)
    assert words in fault.message
    assert (fault.line, fault.column) == (line, column)
    assert "xpecting" not in fault.message


@pytest.mark.parametrize(
    ("text", "words", "column"),
    [
        ("{“spec”: 1}", "a key in double quotes is expected here; a curly quote does not open", 2),
        ('{"rules": “uk”}', "a value is expected here; a curly quote does not open", 11),
        ('{"rules": „uk“}', "a curly quote does not open", 11),
        ('{"spec”: 1, "rules": "uk"}', "a curly quote does not close", 7),
        ('{"spec": 1, "rules”: "uk"}', "a curly quote does not close", 19),
        ('{"rules": "uk”,\n "spec": 1}', "a curly quote does not close", 14),
        ('{"rules": "uk” }', "a curly quote does not close", 14),
        ('{"rules": "uk”, "spec": 1}', "a curly quote does not close", 14),
        ('{"title": "a “b”, c" "d": 1}', "a comma or a closing bracket", 22),
        ('{"title": "a “b”", c}', "a key in double quotes is expected here", 20),
        ('{"title": "a “b", 3: 1}', "a key in double quotes is expected here", 19),
    ],
)
def test_curly_quotes_are_named_where_they_are_the_fault(text, words, column, vocabulary):
    (fault,) = faults_of(text, vocabulary)
    assert words in fault.message
    assert ("straight double quotes" in fault.allowed) == ("curly" in words)
    assert (fault.line, fault.column) == (1, column)


def test_curly_quotes_inside_a_text_are_its_own(good, vocabulary):
    assert parse_text(good.replace("Kiln shed", "“Kiln”, shed"), "", vocabulary).project.title == "“Kiln”, shed"


@pytest.mark.parametrize("text", ["[]", "1", "null", '"spec"'])
def test_not_an_object(text, vocabulary):
    (fault,) = faults_of(text, vocabulary)
    assert fault.where == "(the whole file)"
    assert (fault.line, fault.column) == (1, 1)


def test_a_key_given_twice_points_at_the_second(good, vocabulary):
    text = good.replace('"width": 910', '"width": 800,\n  "width": 910', 1)
    (fault,) = faults_of(text, vocabulary)
    assert fault.where == "walls[0].openings[0].width"
    assert text.splitlines()[fault.line - 1][fault.column - 1 :].startswith('"width": 910')
    assert "first in line 21" in fault.message


def test_the_same_key_in_two_objects_is_no_fault(vocabulary):
    faults = faults_of('{"units": {"a": {"length": 1}}, "units": {"a": {"length": 2}}}', vocabulary)
    assert [f.where for f in faults if "twice" in f.message] == ["units"]


@pytest.mark.parametrize("word", ["NaN", "Infinity", "-Infinity"])
def test_not_a_number(word, good, vocabulary):
    text = good.replace('"at": 12000', f'"at": {word}', 1)
    (fault,) = faults_of(text, vocabulary)
    assert (fault.where, fault.given) == ("walls[0].features[0].at", word)
    assert text.splitlines()[fault.line - 1][fault.column - 1 :].startswith(word)


def test_bytes_that_are_not_utf8(good, vocabulary, tmp_path):
    path = tmp_path / "shed.json"
    path.write_bytes(good.replace("Kiln shed", "Ofenhütte").encode("latin-1"))
    with pytest.raises(SpecError) as caught:
        load_file(path, vocabulary)
    (fault,) = caught.value.faults
    assert "UTF-8" in fault.message
    assert (fault.line, fault.column) == (3, 30)
    assert caught.value.source == str(path)


def test_a_byte_order_mark_and_windows_lines_are_read(good, vocabulary, tmp_path):
    path = tmp_path / "shed.json"
    path.write_bytes(b"\xef\xbb\xbf" + good.replace("\n", "\r\n").encode())
    assert load_file(path, vocabulary).project.title == "Kiln shed"
    path.write_bytes(b"\xef\xbb\xbf" + good.replace("\n", "\r\n").replace('"A3"', '"A9"').encode())
    with pytest.raises(SpecError) as caught:
        load_file(path, vocabulary)
    line = next(n for n, row in enumerate(good.splitlines(), 1) if '"A3"' in row)
    assert [(f.line, f.column) for f in caught.value.faults] == [(line, 21)]


def test_files_that_cannot_be_read(vocabulary, tmp_path):
    for path in (tmp_path / "none.json", tmp_path, "a\0b"):
        with pytest.raises(SpecError) as caught:
            load_file(path, vocabulary)
        assert "cannot be read" in caught.value.faults[0].message
