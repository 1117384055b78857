"""Rule values made wrong one at a time, to see which of them a test would catch. Run by `.ci/mutate-rules`.

Tests are collected once. A first pass, in a process of its own, notes which test reads which key; then each mutant is a fork in
which only those run, until one fails. A test that only holds a value against a figure typed elsewhere is *bare*: it is tried
last, so that what the product's own work catches is told from what only a second transcription does.
"""

from __future__ import annotations

import gc
import json
import os
import pickle
import time
from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import replace
from importlib import import_module
from pathlib import Path
from typing import Any, NamedTuple

import pytest

from elevgen.core.sourced import Sourced, Value
from elevgen.rules import loader
from elevgen.rules.book import RuleBook
from elevgen.rules.keys import KEYS

BARE = ("carried", "said", "test_second_transcription")
"""Fixtures and file names by which a test is known that compares a value with a figure and goes through no other code."""
ONLY_TYPED = "typed twice: "
BUDGET = 4.0
"""How long the tests of one kind may take for one mutant, by the first pass (s)."""
LOADED = ("elevgen.drawing.compose", "elevgen.takeoff.measure", "shapely", "shapely.affinity")
"""What most tests import when they run: loaded before the forks, not in each."""


class Mutant(NamedTuple):
    """One value made wrong in every rule set that has it from the same source. `alternative`: which, or -1 for the default."""

    countries: tuple[str, ...]
    key: str
    alternative: int
    was: Value
    value: Value
    known: str

    @property
    def name(self) -> str:
        which = f" (alternative {self.alternative + 1})" if self.alternative >= 0 else ""
        return f"{'/'.join(self.countries)} {self.key}{which}: {self.was} -> {self.value}"


def wrong(key: str, value: Value) -> Iterator[Value]:
    """The value a tenth more and less; a count by one; a word by another; of a list or a table each in turn."""
    choices = KEYS[key].choices
    if isinstance(value, str):
        yield from [word for word in choices if word != value][:1]
    elif isinstance(value, tuple) and value and isinstance(value[0], str):
        words = tuple(map(str, value))
        more = next((word for word in choices if word not in words), None)
        yield from [words[:-1]] * (len(words) > 1) + [(*words, more)] * (more is not None)
    elif isinstance(value, tuple):
        for n, item in enumerate(value):
            if isinstance(item, tuple):
                for at in (0, 1):
                    for number in _off(item[at], "mm"):
                        yield (*value[:n], (number, item[1]) if at == 0 else (item[0], number), *value[n + 1 :])  # type: ignore[misc]
            else:
                for number in _off(float(item), "mm"):
                    yield (*value[:n], number, *value[n + 1 :])  # type: ignore[misc]
    else:
        yield from _off(float(value), KEYS[key].unit)


def _off(value: float, unit: str) -> tuple[float, ...]:
    if value == 0:
        return (1.0,)
    if unit == "nr":
        return value + 1, value - 1
    return value * 1.1, value * 0.9


def mutants(countries: Iterable[str]) -> list[Mutant]:
    """Every one, of each country; what several have from one source is one."""
    holders: dict[tuple[str, int, Sourced], list[str]] = defaultdict(list)
    for country in countries:
        book = loader.load_book(country)
        for key, value in book.values.items():
            for n, sourced in enumerate((value, *book.alternatives.get(key, ())), start=-1):
                holders[key, n, sourced].append(country)
    return [
        Mutant(tuple(of), key, n, sourced.value, value, sourced.status)
        for (key, n, sourced), of in sorted(holders.items(), key=lambda item: (item[1], item[0][0], item[0][1]))
        for value in wrong(key, sourced.value)
    ]


class Watched(dict[str, Any]):
    """A book's values, remembering what is asked of them."""

    asked: set[str]

    def __getitem__(self, key: str) -> Any:
        self.asked.add(key)
        return super().__getitem__(key)

    def get(self, key: str, default: Any = None) -> Any:
        self.asked.add(key)
        return super().get(key, default)


def watch(asked: set[str]) -> None:
    """From here on every book made notes in `asked` which of its keys are read, alternatives too."""
    plain = RuleBook.__init__

    def made(self: RuleBook, *args: Any, **named: Any) -> None:
        plain(self, *args, **named)
        for name in ("values", "alternatives"):
            watched = Watched(getattr(self, name))
            watched.asked = asked
            object.__setattr__(self, name, watched)

    RuleBook.__init__ = made  # type: ignore[method-assign]


def apply(mutant: Mutant) -> None:
    """From here on the loader gives the wrong value, in this process."""
    read = loader._read_country

    def wrongly(root: Any, country: str, below: tuple[str, ...]) -> Any:
        draft = read(root, country, below)
        if below == () and country in mutant.countries:
            if mutant.alternative < 0:
                draft.values[mutant.key] = replace(draft.values[mutant.key], value=mutant.value)
            else:
                others = list(draft.alternatives[mutant.key])
                others[mutant.alternative] = replace(others[mutant.alternative], value=mutant.value)
                draft.alternatives[mutant.key] = tuple(others)
        return draft

    loader._read_country = wrongly


class Reads(NamedTuple):
    """What the first pass found of one test."""

    keys: frozenset[str]
    seconds: float
    passed: bool


class Mutation:
    """The plugin: in place of the run, one pass that watches and then a fork a mutant."""

    def __init__(
        self,
        countries: tuple[str, ...],
        keys: str,
        report: Path,
        cache: Path | None,
        workers: int,
        quick: bool = False,
        known: str = "",
        budget: float = BUDGET,
    ) -> None:
        self.countries, self.keys, self.report, self.cache, self.workers = countries, keys, report, cache, workers
        self.quick, self.known, self.budget = quick, known, budget
        self.asked: set[str] = set()
        self.failed = False

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        if report.failed:
            self.failed = True

    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        reads = self._reads(session)
        wanted = [m for m in mutants(self.countries) if self.keys in m.key and self.known in m.known]
        for name in LOADED:
            import_module(name)
        gc.freeze()
        started = time.time()
        results = self._each(session, wanted, reads)
        text = told(wanted, results, time.time() - started)
        self.report.write_text(text, encoding="utf-8")
        print(text.split("\n\n")[0])
        return True

    def _reads(self, session: pytest.Session) -> dict[str, Reads]:
        if self.cache and self.cache.is_file():
            known = json.loads(self.cache.read_text(encoding="utf-8"))
            return {name: Reads(frozenset(keys), seconds, passed) for name, (keys, seconds, passed) in known.items()}
        reads: dict[str, Reads] = in_a_fork(lambda: self._watched(session))
        if self.cache:
            plain = {name: (sorted(r.keys), r.seconds, r.passed) for name, r in reads.items()}
            self.cache.write_text(json.dumps(plain), encoding="utf-8")
        return reads

    def _watched(self, session: pytest.Session) -> dict[str, Reads]:
        watch(self.asked)
        found = {}
        for item, following in zip(session.items, [*session.items[1:], None], strict=True):
            self.asked.clear()
            self.failed, began = False, time.perf_counter()
            item.config.hook.pytest_runtest_protocol(item=item, nextitem=following)
            found[item.nodeid] = Reads(frozenset(self.asked), time.perf_counter() - began, not self.failed)
        return found

    def _each(self, session: pytest.Session, wanted: list[Mutant], reads: dict[str, Reads]) -> list[str]:
        """How each mutant ended: the test that caught it, or nothing. So many forks at a time."""
        results = [""] * len(wanted)
        running: dict[int, tuple[int, int]] = {}
        waiting = list(range(len(wanted)))[::-1]
        while waiting or running:
            while waiting and len(running) < self.workers:
                n = waiting.pop()
                here, there = os.pipe()
                if (child := os.fork()) == 0:
                    os.close(here)
                    quiet()
                    caught = self._caught_by(session, wanted[n], reads)
                    os.write(there, caught.encode()[:4000])
                    os._exit(0)
                os.close(there)
                running[child] = (n, here)
            child, _ = os.wait()
            n, here = running.pop(child)
            results[n] = os.read(here, 5000).decode()
            os.close(here)
            with self.report.with_suffix(".part").open("a", encoding="utf-8") as part:
                part.write(f"{wanted[n].name}: {results[n] or 'alive'}\n")
        return results

    def _caught_by(self, session: pytest.Session, mutant: Mutant, reads: dict[str, Reads]) -> str:
        apply(mutant)
        chosen = self._chosen(session, mutant.key, reads)
        for item, following in zip(chosen, [*chosen[1:], None], strict=True):
            self.failed = False
            try:
                item.config.hook.pytest_runtest_protocol(item=item, nextitem=following)
            except BaseException as reason:
                return f"{item.nodeid} ({type(reason).__name__})"
            if self.failed:
                return (ONLY_TYPED if is_bare(item) else "") + item.nodeid
        return ""

    def _chosen(self, session: pytest.Session, key: str, reads: dict[str, Reads]) -> list[pytest.Item]:
        """Tests that read the key and others of their files, those named like it first, then the quickest; bare ones last."""
        sound = [item for item in session.items if item.nodeid in reads and reads[item.nodeid].passed]
        readers = [item for item in sound if key in reads[item.nodeid].keys]
        files = {item.path for item in readers}
        beside = [item for item in sound if item.path in files and key not in reads[item.nodeid].keys]
        kinds = [
            [item for item in readers if not is_bare(item)],
            [item for item in beside if not is_bare(item)],
            [item for item in readers if is_bare(item)],
        ]
        chosen: list[pytest.Item] = []
        for group in kinds[::-1] if self.quick else kinds:
            left = self.budget
            for item in sorted(group, key=lambda i: (-kinship(i, key), reads[i.nodeid].seconds)):
                left -= reads[item.nodeid].seconds
                if left > 0:
                    chosen.append(item)
        return chosen


def is_bare(item: pytest.Item) -> bool:
    return any(name in BARE for name in getattr(item, "fixturenames", ())) or any(name in item.path.name for name in BARE)


def kinship(item: pytest.Item, key: str) -> int:
    """How many of the key's words are in the test's name."""
    return sum(word[:5] in item.nodeid for part in key.split(".") for word in part.split("_"))


def quiet() -> None:
    nowhere = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, 1)
    os.dup2(nowhere, 2)


def in_a_fork(work: Any) -> Any:
    """What the work gives, done in a process of its own, so that nothing it leaves behind is left here."""
    here, there = os.pipe()
    if (child := os.fork()) == 0:
        quiet()
        with os.fdopen(there, "wb") as out:
            pickle.dump(work(), out)
        os._exit(0)
    os.close(there)
    with os.fdopen(here, "rb") as back:
        found = pickle.load(back)
    os.waitpid(child, 0)
    return found


def told(wanted: list[Mutant], results: list[str], seconds: float) -> str:
    """The report: counts first, then what only a second transcription caught, then what nothing did."""
    pairs = list(zip(wanted, results, strict=True))
    lines = ["# Rule values made wrong", ""]
    for what, own in (
        ("values used", [p for p in pairs if p[0].alternative < 0]),
        ("other figures shown", [p for p in pairs if p[0].alternative >= 0]),
    ):
        caught = [r for _, r in own if r]
        bare = [r for r in caught if r.startswith(ONLY_TYPED)]
        share = 100 * len(caught) / len(own) if own else 0.0
        lines.append(
            f"{what}: {len(own)} mutants, {len(caught)} caught ({share:.1f} %), {len(bare)} of them only by a figure "
            f"typed twice, {len(own) - len(caught)} alive"
        )
    lines += [f"{seconds:.0f} s", "", "## Alive", ""]
    lines += [f"- {m.name} [{m.known}]" for m, r in pairs if not r]
    lines += ["", "## Caught", ""]
    lines += [f"- {m.name}: {r}" for m, r in pairs if r]
    return "\n".join(lines) + "\n"
