"""From a file to a spec that can be built from, or to every fault in it at once."""

from __future__ import annotations

from collections.abc import Iterator
from difflib import get_close_matches
from pathlib import Path

from pydantic import ValidationError

from elevgen.core.errors import Fault, SpecError
from elevgen.spec.faults import FaultList, pointed_at
from elevgen.spec.impossible import check_geometry
from elevgen.spec.models import Spec
from elevgen.spec.references import check_references
from elevgen.spec.syntax import decode, read
from elevgen.spec.vocabulary import Vocabulary
from elevgen.spec.words import tell


def load_file(path: str | Path, vocabulary: Vocabulary) -> Spec:
    """Read a spec from a JSON file, UTF-8 with or without a byte order mark.

    Raises SpecError with every fault in file order, also when the file cannot be read.
    """
    try:
        data = Path(path).read_bytes()
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or "not a path"
        raise SpecError((Fault((), f"the file cannot be read: {reason}"),), str(path)) from None
    text = decode(data, str(path))
    spec = parse_text(text, str(path), vocabulary).beside(Path(path).parent)
    if missing := tuple(_missing_files(spec)):
        raise SpecError(pointed_at(missing, text), str(path))
    return spec


def _missing_files(spec: Spec) -> Iterator[Fault]:
    """The files the sheet names that are not there."""
    named = {"layers": spec.sheet.layers if spec.sheet.layers.endswith(".json") else "", "template": spec.sheet.template}
    for field, name in named.items():
        if name and not _is_file(spec.folder / name):
            others = sorted(p.name for p in spec.folder.glob(f"*{Path(name).suffix}") if p.is_file())
            nearest = next(iter(get_close_matches(name, others, 1)), "")
            yield Fault(
                ("sheet", field), "there is no such file beside the spec", name, "a file, by its path from the spec", nearest
            )


def _is_file(path: Path) -> bool:
    """False for a name that is too long for a file as well."""
    try:
        return path.is_file()
    except OSError:
        return False


def parse_text(text: str, source: str, vocabulary: Vocabulary) -> Spec:
    """Make a spec from JSON text; `source` is what the text is called in messages.

    Raises SpecError with every fault in file order.
    """
    text = text.removeprefix("\ufeff")
    faults = FaultList()
    raw = read(text, source, faults)
    spec = _validated(raw, faults)
    if isinstance(raw, dict):
        check_references(raw, vocabulary, faults)
        check_geometry(raw, faults)
    if spec is None or faults:
        raise SpecError(faults.located(text), source)
    return spec


def _validated(raw: object, faults: FaultList) -> Spec | None:
    if not isinstance(raw, dict):
        faults.add((), "a spec is a JSON object", "{ }")
        return None
    if raw.get("spec") is True:
        faults.add(("spec",), "is not a version of the spec this program reads", "1")
    try:
        return Spec.model_validate(raw)
    except ValidationError as error:
        tell(error, raw, faults)
        return None
