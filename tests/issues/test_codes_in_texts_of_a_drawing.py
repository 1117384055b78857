"""Three per cent signs, a letter by its number (`\\U+0041`) and wide per cent signs in R12 were read as codes, not as text."""

from io import StringIO

import ezdxf
import pytest
from ezdxf.lldxf.encoding import decode_dxf_unicode
from ezdxf.tools.text import plain_text

from elevgen.writers._dxf_r12 import ascii_text
from elevgen.writers._dxf_tags import one_line

GIVEN = ("%%%c", "%%%%u x", "100%%%%%d", r"\U+0041 \u+00e9", r"\M+18140", "^J and ^M", r"C:\Users\Mason", "50 % %c")


@pytest.mark.parametrize("words", GIVEN)
def test_a_text_means_what_it_says(words: str) -> None:
    for written in (one_line(words), ascii_text(words)):
        assert "%%" not in written
        assert decode_dxf_unicode(written) == written
        assert plain_text(written).replace(" ", "") == words.replace(" ", "")


def test_a_file_reads_back_what_was_written() -> None:
    doc = ezdxf.new()
    doc.modelspace().add_text(one_line(r"\U+0041"))
    stream = StringIO()
    doc.write(stream)
    again = ezdxf.read(StringIO(stream.getvalue()))
    assert again.modelspace().query("TEXT").first.dxf.text == r"\ U+0041"  # type: ignore[union-attr]


def test_what_stands_for_a_sign_in_r12_makes_no_code_with_its_neighbours() -> None:
    assert ascii_text("％％c ＾J") == "% %c ^ J"
    assert ascii_text("5%±1") == "5% %%p1"
    assert ascii_text("Ø12 ±5 ° 2½") == "%%c12 %%p5 %%d 2 1/2"
    assert ascii_text("Ǿ ß 壁") == "%%c ss ?"
