"""What each document gave a rule set: the reader of `documents.toml`, and what is counted beside it."""

from __future__ import annotations

from pathlib import Path

import pytest

from elevgen.core.errors import RuleDataError
from elevgen.rules.coverage import Coverage, DocumentCoverage, coverage
from elevgen.rules.documents import load_documents, untold
from elevgen.rules.loader import load_book

HEAD = 'title = "Testland"\nedition = "1"\n'
RULES = """
[rules."movement_joint.spacing.normal.clay"]
value = 12
unit = "m"
document = "Code"
status = "read"
alternatives = [
  { value = 9, unit = "m", document = "Old book", status = "memory" },
  { value = 12, unit = "m", document = "Code, second part", status = "quoted" },
]
[rules."movement_joint.spacing.normal.aircrete"]
value = 6
unit = "m"
document = "Code, second part; Old book"
status = "memory"
[rules."tie.apart"]
value = 90
unit = "mm"
status = "practice"
[rules."tie.cover"]
value = 15
unit = "mm"
document = "Code"
status = "quoted"
"""
UNITS = """
[brick]
material = "clay"
length = 215
height = 65
width = 102.5
document = "Sheet"
status = "read"
"""
CODE = '[[document]]\nname = "Code"\nalso = ["Code, second part"]\nabout = "the code"\nread = "most of it"\n'
UNSEEN = '[[document]]\nname = "Unseen"\nleft_out = ["9 m: from uncertain memory"]\n'


def write(root: Path, country: str, documents: str, rules: str = HEAD + RULES, units: str = UNITS) -> None:
    folder = root / country
    folder.mkdir()
    (folder / "rules.toml").write_text(rules, encoding="utf-8")
    (folder / "units.toml").write_text(units, encoding="utf-8")
    (folder / "documents.toml").write_text(documents, encoding="utf-8")


def covered(root: Path, country: str) -> Coverage:
    book = load_book(country, root=root)
    return coverage(book, load_documents(book, root))


def of(found: Coverage, name: str) -> DocumentCoverage:
    return next(each for each in found.documents if each.name == name)


def test_what_is_done_is_counted_from_the_values(tmp_path: Path) -> None:
    write(tmp_path, "aa", CODE + UNSEEN)
    found = covered(tmp_path, "aa")
    assert [each.name for each in found.documents] == ["Code", "Old book", "Sheet", "Unseen"]
    code = of(found, "Code")
    assert set(code.done) == {
        "movement_joint.spacing.normal.clay",
        "movement_joint.spacing.normal.aircrete",
        "tie.cover",
    }
    assert dict(code.by_status) == {"read": 1, "quoted": 1, "memory": 1}
    assert code.other == (), "a figure of its own beside its own value is no other figure"
    old = of(found, "Old book")
    assert (old.done, old.other, old.told) == (
        ("movement_joint.spacing.normal.aircrete",),
        ("movement_joint.spacing.normal.clay",),
        False,
    )
    assert of(found, "Sheet").units == ("brick",)
    assert of(found, "Unseen").document.left_out == ("9 m: from uncertain memory",)
    assert found.practice == ("tie.apart",)


def test_a_child_has_its_parents_documents_and_may_say_otherwise(tmp_path: Path) -> None:
    write(tmp_path, "_common", CODE + UNSEEN)
    own = '[[document]]\nname = "Unseen"\nnot_done = ["waves"]\n'
    write(tmp_path, "aa", own, rules=HEAD + 'extends = "_common"\n', units="")
    found = covered(tmp_path, "aa")
    assert of(found, "Code").document.read == "most of it"
    assert of(found, "Unseen").document.not_done == ("waves",)
    assert of(found, "Unseen").document.left_out == ()
    withdrawn = '[not_covered]\n"movement_joint.spacing.normal.*" = "none here"\n"tie.cover" = "none here"\n'
    (tmp_path / "aa" / "rules.toml").write_text(HEAD + 'extends = "_common"\n' + withdrawn.replace("normal.*", "normal.clay"))
    assert "movement_joint.spacing.normal.clay" not in of(covered(tmp_path, "aa"), "Code").done


@pytest.mark.parametrize(
    ("documents", "reason"),
    [
        (CODE + "colour = 'red'\n", "Code: unknown field 'colour'; allowed: about, also, left_out, name, not_done, read"),
        (CODE.replace("about", "abuot"), "nearest: about"),
        (CODE + '[[document]]\nname = "Code"\nleft_out = ["a"]\n', "Code: is there twice"),
        (CODE + '[[document]]\nname = "Code, second part"\n', "Code, second part: is there twice"),
        (
            '[[document]]\nname = "Kode"\n',
            "Kode: no value cites it and nothing is said to be left out or not done; nearest: Code",
        ),
        (CODE.replace("second part", "third part"), "Code, third part: no value cites it; nearest: Code, second part"),
        ('[[document]]\nabout = "nameless"\n', "name must be text"),
        ('[[document]]\nname = " "\n', "name must be text"),
        (CODE.replace('"the code"', "3"), "about must be text"),
        (UNSEEN.replace('["9 m: from uncertain memory"]', '"9 m"'), "left_out must be a list of texts"),
        (UNSEEN.replace('["9 m: from uncertain memory"]', '[" "]'), "left_out must be a list of texts"),
        (UNSEEN.replace('["9 m: from uncertain memory"]', '["a", "b", "a"]'), "left_out has 'a' twice"),
        ('[document]\nname = "Code"\n', "is written [[document]], once for each"),
        ('[[documents]]\nname = "Code"\n', "documents: unknown heading; allowed: [[document]]"),
        ("[[document]\n", "(the whole file)"),
    ],
)
def test_a_wrong_file_is_refused_by_name(tmp_path: Path, documents: str, reason: str) -> None:
    write(tmp_path, "aa", documents)
    with pytest.raises(RuleDataError, match=r"aa/documents\.toml") as error:
        load_documents(load_book("aa", root=tmp_path), tmp_path)
    assert reason in str(error.value)


def test_a_set_without_the_file_is_covered_all_the_same(tmp_path: Path) -> None:
    write(tmp_path, "aa", "")
    (tmp_path / "aa" / "documents.toml").unlink()
    found = covered(tmp_path, "aa")
    assert {each.name for each in found.documents} == {"Code", "Code, second part", "Old book", "Sheet"}
    assert not any(each.told for each in found.documents)
    assert untold(load_book("aa", root=tmp_path), ()) == ("Code", "Code, second part", "Old book", "Sheet")


def test_two_documents_cited_together_are_each_counted_unless_they_are_one_entry(tmp_path: Path) -> None:
    both = '[[document]]\nname = "Code, second part; Old book"\nabout = "seen together"\n'
    write(tmp_path, "aa", CODE.replace('also = ["Code, second part"]\n', "") + both)
    (tmp_path / "bb").mkdir()
    one = '[[document]]\nname = "Code"\nalso = ["Code, second part", "Old book"]\nabout = "the code and what it was"\n'
    for name, text in (("rules", HEAD + RULES), ("units", UNITS), ("documents", one)):
        (tmp_path / "bb" / f"{name}.toml").write_text(text, encoding="utf-8")
    code = of(covered(tmp_path, "bb"), "Code")
    assert len(code.done) == len(set(code.done)) == 3, "a value that cites it twice counts once"
    together = of(covered(tmp_path, "aa"), "Code, second part; Old book")
    assert together.done == ("movement_joint.spacing.normal.aircrete",)
    book = load_book("aa", root=tmp_path)
    assert untold(book, load_documents(book, tmp_path)) == ("Code, second part", "Old book", "Sheet")
