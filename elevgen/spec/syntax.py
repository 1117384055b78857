"""From bytes to JSON values, with faults in plain words where that cannot be done."""

from __future__ import annotations

import json
import re
from typing import Any

from elevgen.core.errors import Fault, SpecError
from elevgen.spec.faults import FaultList, shortened
from elevgen.spec.locate import DEEPEST, Lines, tokens

LARGEST = 20_000_000
"""Bytes of the largest spec that is read."""

_LONE_HALF = re.compile(r"\\u[dD][89a-fA-F]")
_BLANK = " \t\r\n"
_CURLY = "\u201c\u201d\u201e\u201f\u00ab\u00bb"
"""Double quotes as word processors put them in place of straight ones."""
_CURLY_CLOSE = re.compile(rf"[{_CURLY}]\s*[,:}}\]]")
_STRAIGHT = 'text in straight double quotes: "text"'
_LAST_TEXT = re.compile(r'"(?:[^"\\\n]|\\.)*"?\s*\Z')
_WORDS = (
    ("Expecting ':'", "a colon is expected after the key"),
    ("Expecting ','", "a comma or a closing bracket is expected here"),
    ("Extra data", "something follows after the end of the spec"),
    ("Invalid control character", "a line break or control character inside a text"),
    ("Invalid \\escape", "a backslash in a text must be written twice"),
    ("Invalid \\u", "this \\u is not followed by four hexadecimal digits"),
    ("Unterminated string", "this text has no closing double quote"),
)


def decode(data: bytes, source: str) -> str:
    """The text of a file. Raises SpecError where it is not UTF-8, or too large to be a spec."""
    if len(data) > LARGEST:
        raise _refusal("the file is too large to be a spec", source, given=f"{len(data)} bytes", allowed=f"{LARGEST} bytes")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        before = data[: error.start].decode("utf-8-sig", errors="replace")
        line, column = Lines(before).at(len(before))
        given = f"byte 0x{data[error.start]:02x}"
        raise _refusal("the file is not UTF-8 text", source, given, "text saved as UTF-8", line, column) from None


def read(text: str, source: str, faults: FaultList) -> Any:
    """The JSON values of a text; what JSON readers let pass (repeated keys, NaN) is noted in `faults`.

    Raises SpecError at the first place where the text is not JSON.
    """

    def note(_: str) -> float:
        faults.look_again = True
        return float("nan")

    def build(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
        built = dict(pairs)
        if len(built) != len(pairs):
            faults.look_again = True
        return built

    try:
        raw = json.loads(text, object_pairs_hook=build, parse_constant=note)
    except json.JSONDecodeError as error:
        raise _not_json(text, error, source) from None
    except RecursionError:
        raise _refuse_token(text, _first_too_deep(text), "brackets are nested too deeply for a spec", source) from None
    except ValueError:
        long_ones = (at for at, token in tokens(text) if token[0] != '"' and len(token) > 4000)
        raise _refuse_token(text, next(long_ones, 0), "a number with thousands of digits", source) from None
    if _LONE_HALF.search(text):
        _refuse_lone_halves(text, source)
    return raw


def _refusal(
    message: str, source: str, given: str = "", allowed: str = "", line: int | None = None, column: int | None = None
) -> SpecError:
    return SpecError((Fault((), message, given, allowed, "", line, column),), source)


def _refuse_token(text: str, at: int, message: str, source: str, allowed: str = "") -> SpecError:
    line, column = Lines(text).at(at)
    token = re.compile(r"[^\s,:\[\]{}]+|\S|").match(text, at)
    given = shortened(token.group()) if token else ""
    return _refusal(message, source, given, allowed, line, column)


def _first_too_deep(text: str) -> int:
    depth = 0
    for at, token in tokens(text):
        depth += (token in "{[") - (token in "}]")
        if depth > DEEPEST:
            return at
    return 0


def _refuse_lone_halves(text: str, source: str) -> None:
    for at, token in tokens(text):
        if token[0] == '"' and not _is_unicode(json.loads(token)):
            raise _refuse_token(text, at, "a text with half of a \\u pair, which is no character", source)


def _is_unicode(text: str) -> bool:
    try:
        text.encode("utf-8")
    except UnicodeEncodeError:
        return False
    return True


def _not_json(text: str, error: json.JSONDecodeError, source: str) -> SpecError:
    before = text[: error.pos].rstrip(_BLANK)
    rest = text[error.pos :].lstrip(_BLANK)
    if not text.strip(_BLANK):
        return _refusal("the file is empty", source, allowed="a spec: a JSON object { }", line=1, column=1)
    if error.msg.startswith("Illegal trailing comma") or (before.endswith(",") and rest[:1] in ("}", "]")):
        at = error.pos if text[error.pos : error.pos + 1] == "," else len(before) - 1
        return _refuse_token(text, at, "a comma with nothing after it", source, "no comma after the last item")
    if (curly := _curly_close(text, error)) is not None:
        return _refuse_token(text, curly, "a curly quote does not close a text", source, _STRAIGHT)
    for start, words in _WORDS:
        if error.msg.startswith(start) and (rest or not start.startswith("Expecting")):
            return _refuse_token(text, error.pos, words, source)
    if not rest:
        return _refuse_token(text, len(text), "the file ends too early: a bracket or brace is not closed", source)
    return _refuse_token(text, error.pos, _wrong_start(rest, error.msg), source, _STRAIGHT if rest[0] in _CURLY else "")


def _curly_close(text: str, error: json.JSONDecodeError) -> int | None:
    """The curly quote that was to close the text in which, or right after which, the reader stumbled."""
    stop = error.pos
    if error.msg.startswith("Unterminated"):
        stop = text.find("\n", stop) if "\n" in text[stop:] else len(text)
    elif error.msg.startswith("Expecting"):
        if text[stop - 1 : stop] != '"' or text[stop : stop + 1] == '"':
            return None
    elif not error.msg.startswith("Invalid control character"):
        return None
    last = _LAST_TEXT.search(text, text.rfind("\n", 0, error.pos) + 1, stop)
    close = _CURLY_CLOSE.search(last.group()) if last else None
    return last.start() + close.start() if last and close else None


def _wrong_start(rest: str, msg: str) -> str:
    wanted = "a key in double quotes" if "property name" in msg else "a value"
    if rest.startswith(("//", "/*", "#")):
        return f"{wanted} is expected here; JSON has no comments"
    if rest[0] in _CURLY:
        return f"{wanted} is expected here; a curly quote does not open a text"
    if rest.startswith("'"):
        return f"{wanted} is expected here; text takes double quotes"
    return f"{wanted} is expected here"
