"""A set of files put in place whole or not at all.

Everything is first written into a hidden folder beside its final place; then each file is moved in, one rename each.
If anything fails on the way, what was there before is put back. A small list of what elevgen wrote, with the hash of
each file, stays in the folder: only a file that is on it and still unchanged is ever removed as stale, and one that somebody
has changed since is kept under another name when its place is needed.
"""

from __future__ import annotations

import json
import os
import shutil
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager, suppress
from hashlib import sha256
from itertools import chain, count
from pathlib import Path, PurePosixPath
from tempfile import mkdtemp

from elevgen.core.errors import OutputError
from elevgen.writers._names import is_safe

LIST_NAME = ".elevgen-set.json"
CHANGED = "-yours"
"""What is added to the name of a file that somebody has changed since it was written."""

Files = Mapping[str, bytes]
Listed = dict[str, dict[str, str]]
"""File hashes by path, by format."""


def replace_set(folder: Path, name: str, files: Mapping[str, Files], *, whole: bool = False) -> list[Path]:
    """Put the files of each format in place and remove what is stale of an earlier set of the same name.

    `whole`: these formats are all there is to be, so files of any other are stale too; else they are left as they are.
    Returns the paths written, those of changed files kept among them. Raises OutputError; the earlier set is then as it was.
    """
    _refuse_unsafe(folder, files)
    with _as_output_error(folder):
        made = _make_folder(folder)
        try:
            return _replace(folder, name, files, whole)
        except BaseException:
            _remove_empty(made)
            raise


def _replace(folder: Path, name: str, files: Mapping[str, Files], whole: bool) -> list[Path]:
    earlier = _read_list(folder, name)
    new = {fmt: {path: _hash(data) for path, data in sorted(held.items())} for fmt, held in files.items()}
    listed = new if whole else earlier | new
    content = {path: data for held in files.values() for path, data in held.items()}
    content |= dict(_changed_by_somebody(folder, earlier, content))
    stale = [path for path in _stale(earlier, listed) if path not in content]
    stage = Path(mkdtemp(prefix=".elevgen-", dir=folder))
    try:
        for path, data in (content | {LIST_NAME: _list_bytes(name, listed)}).items():
            _write(stage / "new" / path, data)
        _move_in(folder, stage, [*sorted(content), LIST_NAME], [p for p in stale if _unchanged(folder, p, earlier)])
    finally:
        shutil.rmtree(stage, ignore_errors=True)
    return [folder / path for path in sorted(content)]


def _move_in(folder: Path, stage: Path, new: list[str], stale: list[str]) -> None:
    """Every new file into place and every stale one out; on any failure all that moved is moved back."""
    kept: list[str] = []
    made: list[Path] = []
    try:
        for path in new + stale:
            target = folder / path
            made += _make_folder(target.parent)
            if target.is_symlink() or target.exists():
                _keep(target, stage / "old" / path)
                kept.append(path)
            if path in stale:
                target.unlink()
            else:
                (stage / "new" / path).replace(target)
    except BaseException:
        _move_back(folder, stage, new, kept)
        _remove_empty(made)
        raise
    _remove_empty(sorted({(folder / path).parent for path in stale} - {folder}))


def _move_back(folder: Path, stage: Path, new: list[str], kept: list[str]) -> None:
    for path in kept:
        (stage / "old" / path).replace(folder / path)
    for path in set(new) - set(kept):
        if not (stage / "new" / path).exists():
            (folder / path).unlink(missing_ok=True)


def _keep(target: Path, kept: Path) -> None:
    """A second name for a file, so that it never leaves its place; a copy where the file system has no links."""
    if target.is_dir() and not target.is_symlink():
        raise IsADirectoryError(f"a folder stands where the file {target.name} belongs")
    kept.parent.mkdir(parents=True, exist_ok=True)
    try:
        os.link(target, kept, follow_symlinks=False)
    except (OSError, NotImplementedError):
        shutil.copy2(target, kept, follow_symlinks=False)


def _write(path: Path, data: bytes) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(data)


def _make_folder(folder: Path) -> list[Path]:
    """Make a folder and its parents; returns those that were not there, deepest last."""
    missing = [f for f in (folder, *folder.parents) if not f.exists()]
    folder.mkdir(parents=True, exist_ok=True)
    return missing[::-1]


def _remove_empty(folders: Iterable[Path]) -> None:
    for folder in reversed(list(folders)):
        with suppress(OSError):
            folder.rmdir()


def _stale(earlier: Listed, listed: Listed) -> Iterator[str]:
    for fmt, held in earlier.items():
        yield from (path for path in held if path not in listed.get(fmt, {}))


def _changed_by_somebody(folder: Path, earlier: Listed, content: Files) -> Iterator[tuple[str, bytes]]:
    """Files of ours that are no longer as we wrote them and would be written over, under the names they are kept by."""
    ours = {path for held in earlier.values() for path in held}
    for path in sorted(ours & set(content)):
        target = folder / path
        if target.is_file() and not target.is_symlink() and not _unchanged(folder, path, earlier):
            held = target.read_bytes()
            if held != content[path]:
                yield _free_name(folder, path, held), held


def _free_name(folder: Path, path: str, held: bytes) -> str:
    """A name beside a file's own that nothing else has."""
    given = PurePosixPath(path)
    for name in (str(given.with_stem(f"{given.stem}{CHANGED}{number}")) for number in chain([""], (f"-{n}" for n in count(2)))):
        if not (folder / name).exists() or (folder / name).read_bytes() == held:
            return name
    raise AssertionError("names never run out")


def _unchanged(folder: Path, path: str, earlier: Listed) -> bool:
    """True when a file is still byte for byte what elevgen wrote."""
    target = folder / path
    if target.is_symlink() or not target.is_file():
        return False
    return _hash(target.read_bytes()) in {held[path] for held in earlier.values() if path in held}


def _read_list(folder: Path, name: str) -> Listed:
    """What an earlier run for the same name wrote; nothing when the list is missing, another's, or not as we write it."""
    try:
        held = json.loads((folder / LIST_NAME).read_bytes())
        if held["name"] != name:
            return {}
        formats: Listed = {str(fmt): {str(path): str(sha) for path, sha in files.items()} for fmt, files in held["files"].items()}
    except (OSError, ValueError, KeyError, TypeError, AttributeError):
        return {}
    return formats if all(is_safe(path) for files in formats.values() for path in files) else {}


def _list_bytes(name: str, listed: Listed) -> bytes:
    return (json.dumps({"name": name, "files": listed}, indent=1, sort_keys=True) + "\n").encode()


def _hash(data: bytes) -> str:
    return sha256(data).hexdigest()


def _refuse_unsafe(folder: Path, files: Mapping[str, Files]) -> None:
    paths = [path for held in files.values() for path in held]
    for path in paths:
        if not is_safe(path):
            raise OutputError(folder, f"{path!r} is not a plain file name")
        if paths.count(path) > 1:
            raise OutputError(folder, f"two formats want to write {path!r}")


@contextmanager
def _as_output_error(folder: Path) -> Iterator[None]:
    try:
        yield
    except OSError as error:
        raise OutputError(folder, error.strerror or str(error)) from error
