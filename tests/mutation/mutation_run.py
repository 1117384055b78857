"""Rule values made wrong one at a time, to see which of them a test would catch. Run by `.ci/mutate-rules`.

Tests are collected once. A first pass, in a process of its own, notes which test reads which key and who asks for it; then each
mutant is a fork in which only those run, until one fails. Where a stage or a check asks, the product's own work catches the
mutant; where only the test itself asks, the figure is merely typed twice: such tests come last, so that the two are told apart.
"""

from __future__ import annotations

import gc
import json
import os
import pickle
import time
from collections import defaultdict
from collections.abc import Iterator
from importlib import import_module
from math import inf
from pathlib import Path
from traceback import format_exc
from typing import Any, NamedTuple
from zlib import crc32

import pytest
from mutant_report import JUDGES, ONLY_TYPED, caught_before, line, told
from rule_mutants import Mutant, apply, mutants, remember
from rule_reads import Asked, note_of, watch

BARE = ("carried", "said", "test_second_transcription")
"""Fixtures and file names by which a test is known that compares a value with a figure and goes through no other code."""
BUDGET = 2.0
"""How long the tests of one kind may take for one mutant, by the first pass (s)."""
LOADED = ("elevgen.drawing.compose", "elevgen.takeoff.measure", "shapely", "shapely.affinity")
"""What most tests import when they run: loaded before the forks, not in each."""


class Reads(NamedTuple):
    """What the first pass found of one test: the keys it reads, those a stage or a check reads for it, and how it went."""

    keys: frozenset[str]
    worked: frozenset[str]
    seconds: float
    passed: bool


class Wanted(NamedTuple):
    """Which mutants are tried, and how. `budget`: seconds of tests of one kind for one mutant; `since`: an earlier report, whose
    mutants that the product's own work caught are taken as they were; `minutes`: no mutant is begun after so many."""

    countries: tuple[str, ...]
    keys: str = ""
    known: str = ""
    workers: int = 1
    budget: float = BUDGET
    since: Path | None = None
    minutes: float = inf

    def mutants(self) -> list[Mutant]:
        """In an order that has nothing to do with them, so that a run broken off has tried a fair sample."""
        chosen = [m for m in mutants(self.countries) if self.keys in m.key and self.known in m.known]
        return sorted(chosen, key=lambda m: (crc32(m.name.encode()), m.name))


class Mutation:
    """The plugin: in place of the run, one pass that watches and then a fork a mutant."""

    def __init__(self, wanted: Wanted, report: Path, cache: Path | None = None) -> None:
        self.wanted, self.report, self.cache = wanted, report, cache
        self.asked = Asked()
        self.catchers: dict[str, list[str]] = defaultdict(list)
        self.shared: dict[tuple[str, str], tuple[set[str], set[str], float]] = {}
        self.setting_up = 0.0
        self.failed = False

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        if report.failed:
            self.failed = True

    @pytest.hookimpl(wrapper=True)
    def pytest_fixture_setup(self, fixturedef: Any, request: Any) -> Iterator[None]:
        """What is read for a fixture of several tests is read for each of them."""
        before, began = (set(self.asked.keys), set(self.asked.worked)), time.perf_counter()
        if wide := fixturedef.scope != "function":
            self.asked.clear()
        made = yield
        if wide:
            of = fixturedef.argname, repr(getattr(request, "param", None))
            self.shared[of] = set(self.asked.keys), set(self.asked.worked), time.perf_counter() - began
            self.setting_up += self.shared[of][2]
            self.asked.keys |= before[0]
            self.asked.worked |= before[1]
        return made

    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        reads = self._reads(session)
        wanted = self.wanted.mutants()
        for name in LOADED:
            import_module(name)
        remember()
        gc.freeze()
        started = time.time()
        results = self._each(session, wanted, reads, caught_before(self.wanted.since))
        tried = [(mutant, result) for mutant, result in zip(wanted, results, strict=True) if result is not None]
        text = told(tried, len(wanted), time.time() - started)
        self.report.write_text(text, encoding="utf-8")
        print(text[: text.index("## Alive")])
        return True

    def _reads(self, session: pytest.Session) -> dict[str, Reads]:
        """From the cache what it has, by a first pass the rest."""
        reads: dict[str, Reads] = {}
        if self.cache and self.cache.is_file():
            for name, (keys, worked, *rest) in json.loads(self.cache.read_text(encoding="utf-8")).items():
                reads[name] = Reads(frozenset(keys), frozenset(worked), *rest)
        if new := [item for item in session.items if item.nodeid not in reads]:
            reads |= in_a_fork(lambda: self._watched(new, dict(reads)))
        self._keep(reads)
        return reads

    def _keep(self, reads: dict[str, Reads]) -> None:
        if self.cache:
            plain = {name: (sorted(r.keys), sorted(r.worked), r.seconds, r.passed) for name, r in reads.items()}
            self.cache.write_text(json.dumps(plain), encoding="utf-8")

    def _watched(self, items: list[pytest.Item], found: dict[str, Reads]) -> dict[str, Reads]:
        """What was `found` before and what these tests read; kept file by file, so that a run broken off can go on."""
        watch(self.asked)
        for item, following in zip(items, [*items[1:], None], strict=True):
            self.asked.clear()
            self.failed, self.setting_up, began = False, 0.0, time.perf_counter()
            item.config.hook.pytest_runtest_protocol(item=item, nextitem=following)
            seconds = time.perf_counter() - began - self.setting_up
            keys, worked = set(self.asked.keys), set(self.asked.worked)
            for of in fixtures_of(item):
                more = self.shared.get(of, (set(), set(), 0.0))
                keys, worked, seconds = keys | more[0], worked | more[1], seconds + more[2]
            found[item.nodeid] = Reads(frozenset(keys), frozenset(worked), seconds, not self.failed)
            if following is None or following.path != item.path:
                self._keep(found)
        return found

    def _each(
        self, session: pytest.Session, wanted: list[Mutant], reads: dict[str, Reads], known: dict[str, str]
    ) -> list[str | None]:
        """How each mutant ended: the test that caught it, or nothing; None where time was up. So many forks at a time."""
        results = [known.get(mutant.name) for mutant in wanted]
        running: dict[int, tuple[int, int]] = {}
        waiting = [n for n, result in enumerate(results) if result is None][::-1]
        end = time.time() + 60 * self.wanted.minutes
        while waiting or running:
            if time.time() > end:
                waiting.clear()
                if not running:
                    break
            while waiting and len(running) < self.wanted.workers:
                n = waiting.pop()
                here, there = os.pipe()
                if (child := os.fork()) == 0:
                    os.close(here)
                    quiet()
                    try:
                        os.write(there, self._caught_by(session, wanted[n], reads).encode()[:4000])
                    except BaseException:
                        os.write(there, format_exc().encode()[-4000:])
                    finally:
                        os._exit(0)
                os.close(there)
                running[child] = (n, here)
            child, _ = os.wait()
            n, here = running.pop(child)
            results[n] = result = os.read(here, 5000).decode()
            os.close(here)
            if result.startswith("Traceback"):
                raise RuntimeError(f"{wanted[n].name}: {result}")
            if result:
                self.catchers[wanted[n].key].append(result.removeprefix(ONLY_TYPED))
            with self.report.with_suffix(".part").open("a", encoding="utf-8") as part:
                part.write(line(wanted[n], result))
        return results

    def _caught_by(self, session: pytest.Session, mutant: Mutant, reads: dict[str, Reads]) -> str:
        apply(mutant)
        for worked, chosen in self._chosen(session, mutant, reads):
            for item, following in zip(chosen, [*chosen[1:], None][: len(chosen)], strict=True):
                self.failed = False
                try:
                    item.config.hook.pytest_runtest_protocol(item=item, nextitem=following)
                except BaseException:
                    self.failed = True
                if self.failed:
                    return ("" if worked else ONLY_TYPED) + item.nodeid
        return ""

    def _chosen(
        self, session: pytest.Session, mutant: Mutant, reads: dict[str, Reads]
    ) -> Iterator[tuple[bool, list[pytest.Item]]]:
        """Whether it is the product that reads the key in them, and the tests: published and contract tests, others, what else
        their files have, and last those that read the key themselves. Of each, what caught another mutant of the key comes
        first, then what is named like it, then the quickest."""
        sound = [item for item in session.items if item.nodeid in reads and reads[item.nodeid].passed]
        notes = {note_of(country, mutant.key, mutant.alternative >= 0) for country in mutant.countries}
        readers = [item for item in sound if notes & reads[item.nodeid].keys]
        working = [item for item in readers if notes & reads[item.nodeid].worked and not is_bare(item)]
        first = [item for item in working if item.path.parent.name in JUDGES]
        files, taken = {item.path for item in working}, {item.nodeid for item in working}
        beside = [item for item in sound if item.path in files and item.nodeid not in taken and not is_bare(item)]
        rest = [item for item in working if item not in first]
        typed = [item for item in readers if item.nodeid not in taken]
        for worked, group in ((True, first), (True, rest), (True, beside), (False, typed)):
            left, chosen = self.wanted.budget / (4 if group is beside else 1), []
            before = self.catchers[mutant.key]
            for item in sorted(group, key=lambda i: (i.nodeid not in before, -kinship(i, mutant.key), reads[i.nodeid].seconds)):
                takes = reads[item.nodeid].seconds
                if takes < left or (not chosen and group is not beside):
                    left -= takes
                    chosen.append(item)
            yield worked, by_file(chosen, session.items)


def by_file(chosen: list[pytest.Item], collected: list[pytest.Item]) -> list[pytest.Item]:
    """File by file as they first come, in each as collected, so that what a file's tests share is made once."""
    places = {item.nodeid: n for n, item in enumerate(collected)}
    files = list(dict.fromkeys(item.path for item in chosen))
    return sorted(chosen, key=lambda item: (files.index(item.path), places[item.nodeid]))


def fixtures_of(item: pytest.Item) -> Iterator[tuple[str, str]]:
    """The names of a test's fixtures, each with what it is made with."""
    given = item.callspec.params if hasattr(item, "callspec") else {}
    for name in getattr(item, "fixturenames", ()):
        yield name, repr(given.get(name))


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
