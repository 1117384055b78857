"""The command line: arguments, exit codes, what is said on the terminal. Nothing else.

Exit codes: 0 done, 1 a check failed (`check`), 2 bad input, 3 could not write.
"""

from __future__ import annotations

import atexit
import gc
import json
import sys
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

import click

from elevgen.cli_rates import rate_fault_text, say_changed, say_left_csv, say_rates
from elevgen.core.errors import Fault, OutputError, RatesError, RuleDataError, SpecError
from elevgen.core.sourced import STATUSES, Status
from elevgen.core.version import VERSION
from elevgen.result import SEVERITIES, Design, Finding

if TYPE_CHECKING:
    from elevgen.pipeline import OwnFigures
    from elevgen.takeoff.model import Takeoff
    from elevgen.takeoff.rates import Rates

BAD_INPUT = 2
COULD_NOT_WRITE = 3

MOST_SHOWN = 12
"""Failing findings said while drawing; all of them are in the set and in `check`."""

Specs = click.argument("specs", nargs=-1, required=True, metavar="SPEC...", type=click.Path(path_type=Path))


@click.group(help="Masonry elevations, setting-out sheets and bills from a wall spec (JSON).")
@click.version_option(VERSION, prog_name="elevgen")
def main() -> None:
    """Set output to UTF-8 so that ± and ² survive any terminal."""
    # A run is short and keeps nearly all it makes: looking for garbage on the way and at the end took an eighth of a draw.
    gc.set_threshold(100_000)
    atexit.register(gc.freeze)
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(encoding="utf-8", errors="replace")


@main.command()
@Specs
@click.option("-o", "--output", type=click.Path(path_type=Path), help="Folder of the set; default dist/<spec name>.")
@click.option("--formats", default="", help="Which formats, with commas between; default: all but csv.")
@click.option("--dxf", type=click.Choice(["R2013", "R12"]), help="Version of the DXF files, whatever the SPEC asks for.")
@click.option(
    "--prices",
    type=click.Path(path_type=Path),
    metavar="BOOK",
    help=(
        "Your price book, xlsx or csv: columns code or description (or both), unit, rate, and price for what you buy at. "
        "Matched by code, then by the exact description; units must agree (nr, m, m2, m3, l; in feet "
        "nr, ft, sq ft, cu ft, fl oz). Nothing is guessed."
    ),
)
@click.option(
    "--keep-rates",
    type=click.Path(path_type=Path),
    metavar="WORKBOOK",
    help=(
        "The workbook of an earlier draw that you have filled in: its rates, prices, notes, changed waste and packs and its "
        "percentages are carried across by item code. They count before those of --prices."
    ),
)
@click.option("--csv", "with_csv", is_flag=True, help="The bill as <name>-bill.csv as well.")
def draw(
    specs: tuple[Path, ...],
    output: Path | None,
    formats: str,
    dxf: str | None,
    prices: Path | None,
    keep_rates: Path | None,
    with_csv: bool,
) -> None:
    """Draw the finished set of each SPEC: drawings, setting-out sheets, workbook, design.json."""
    from elevgen import pipeline

    wanted = _formats(formats)
    if with_csv:
        wanted = (*(wanted or pipeline.default_formats()), "csv")
    _refuse_figures_nowhere(wanted, prices, keep_rates, specs)
    folders = _folders(output, specs)
    with _plain_errors():
        own = pipeline.read_own_figures(prices, keep_rates)
        designs = [(p, pipeline.design_file(p, dxf or ""), f) for p, f in zip(specs, folders, strict=True)]
        for path, designed, _ in designs[1:]:  # before any set is written
            with pipeline.faults_pointed_at(path):
                pipeline.try_template(designed, wanted)
        bills = [_billed(path, designed, own) for path, designed, _ in designs]
        for (path, designed, folder), bill in zip(designs, bills, strict=True):
            with pipeline.faults_pointed_at(path):
                written = pipeline.write_billed(designed, *bill, folder, wanted)
            click.echo(f"{path}: {len(written)} files in {folder}")
            say_changed(written)
            if prices or keep_rates:
                say_rates(*bill, written)
            say_left_csv(folder, written)
            _say_worst(designed.findings, path)
            _say_cautions(designed)
    _say_aid()


@main.command()
@Specs
@click.option("--json", "as_json", is_flag=True, help="Findings as JSON.")
@click.option("--all", "everything", is_flag=True, help="Checks that passed as well.")
def check(specs: tuple[Path, ...], as_json: bool, everything: bool) -> None:
    """Say what is wrong with the walls of each SPEC, worst first. Exit 1 when something fails."""
    from elevgen import pipeline

    with _plain_errors():
        designs = [(path, pipeline.design_file(path)) for path in specs]
    if as_json:
        click.echo(json.dumps({str(path): _finding_rows(d.findings, everything) for path, d in designs}, indent=2))
    else:
        for path, designed in designs:
            click.echo(f"{path}")
            _say_findings(designed.findings, everything)
            _say_cautions(designed)
        _say_aid()
    failing = any(f.severity == "fail" and not f.waiver for _, d in designs for f in d.findings)
    sys.exit(1 if failing else 0)


@main.command()
@click.argument("rule_set", required=False, metavar="[ID]")
@click.option("--key", default="", metavar="TEXT", help="Only rules with every word of TEXT in their key or meaning.")
@click.option("--how", type=click.Choice(STATUSES), help="Only values known this way.")
@click.option("--long", "at_length", is_flag=True, help="Editions, notes and documents that say the same as well.")
@click.option("--coverage", is_flag=True, help="Document by document: coded, not done, left out and why.")
@click.option("--compare", nargs=2, metavar="ID ID", help="Two sets side by side, where they differ.")
@click.option("--all", "everything", is_flag=True, help="With --compare: keys that do not differ as well.")
@click.option("--json", "as_json", is_flag=True, help="Everything as JSON.")
def rules(
    rule_set: str | None,
    key: str,
    how: Status | None,
    at_length: bool,
    coverage: bool,
    compare: tuple[str, str] | None,
    everything: bool,
    as_json: bool,
) -> None:
    """List the rule sets, or the values of one: source, how it is known, other figures, what is not covered."""
    from elevgen import cli_rules
    from elevgen.rules.loader import load_book

    _refuse_together(rule_set, bool(key or how), coverage, compare, everything)
    with _plain_errors():
        if compare:
            first, second = (load_book(_known_set(name)) for name in compare)
            cli_rules.say_comparison(first, second, key, how, everything, as_json)
        elif rule_set is None:
            cli_rules.say_sets(as_json)
        elif coverage:
            cli_rules.say_coverage(load_book(_known_set(rule_set)), as_json)
        else:
            cli_rules.say_rules(load_book(_known_set(rule_set)), key, how, at_length, as_json)


@main.command()
def schema() -> None:
    """Print the JSON Schema of the spec."""
    from elevgen.spec.schema import schema_text

    click.echo(schema_text(), nl=False)


@main.command()
@click.option("--plan", type=click.Choice(["straight", "l", "rectangle"]), default="rectangle", show_default=True)
@click.option("--rules", default="uk", show_default=True, help="Rule set; the spec of one in feet is in feet and inches.")
@click.option("--length", help="Overall length, with its unit.  [default: 8 m; with us 23' 11 5/8\"]")
@click.option("--width", help="Overall width, with its unit.  [default: 5 m; with us 15' 11 5/8\"]")
@click.option("--height", help="Height above datum, with its unit.  [default: 2.7 m; with us 8']")
@click.option("--title", default="New walls", show_default=True)
@click.option("-o", "--output", type=click.Path(path_type=Path), help="File to write; default: the terminal.")
def new(
    plan: str, rules: str, length: str | None, width: str | None, height: str | None, title: str, output: Path | None
) -> None:
    """Write a first spec to start from."""
    from elevgen.rules.loader import country_ids
    from elevgen.spec.starter import MAKE_UPS, starter_text

    known = [name for name in MAKE_UPS if name in country_ids()]
    if rules not in known:
        _refuse(f"no first spec for rule set {rules!r}; there is: {', '.join(known)}")
    try:
        text = starter_text(plan, length, width, height, title, rules)
    except ValueError as error:
        _refuse(str(error))
    if output is None:
        click.echo(text, nl=False)
        return
    try:
        with output.open("x", encoding="utf-8") as file:
            file.write(text)
    except FileExistsError:
        _refuse(f"{output} is already there; nothing is overwritten")
    except OSError as error:
        click.echo(f"could not write {output}: {error.strerror}", err=True)
        sys.exit(COULD_NOT_WRITE)
    click.echo(f"{output}: draw it with: elevgen draw {output}")


def _formats(given: str) -> tuple[str, ...]:
    from elevgen import pipeline

    known = pipeline.format_names()
    wanted = tuple(dict.fromkeys(f.strip().lower() for f in given.split(",") if f.strip()))
    if unknown := [f for f in wanted if f not in known]:
        _refuse(f"no format {unknown[0]!r}; there is: {', '.join(known)}")
    return wanted


def _refuse_together(
    rule_set: str | None, filtered: bool, coverage: bool, compare: tuple[str, str] | None, everything: bool
) -> None:
    """Options of `rules` that shut each other out, and those that want a set."""
    if compare and rule_set:
        _refuse(f"--compare names its two sets: elevgen rules --compare {compare[0]} {compare[1]}, without {rule_set}")
    if compare and coverage:
        _refuse("--coverage is of one set: it cannot be had with --compare")
    if compare and compare[0] == compare[1]:
        _refuse(f"--compare takes two sets, and {compare[0]} is one")
    if everything and not compare:
        _refuse("--all goes with --compare: without it every value is listed anyway")
    if coverage and filtered:
        _refuse("--coverage shows whole documents: it cannot be had with --key or --how")
    if (coverage or filtered) and not compare and not rule_set:
        _refuse(f"which rule set? elevgen rules ID {'--coverage' if coverage else '--key TEXT'}; elevgen rules lists them")


def _known_set(name: str) -> str:
    """The name of a rule set there is; any other is refused with the nearest."""
    from elevgen.rules.entries import nearest
    from elevgen.rules.loader import country_ids

    known = country_ids()
    if name not in known:
        like = nearest(name.casefold(), known)
        _refuse(f"no rule set {name!r}; there is: {', '.join(known)}" + (f"; nearest: {like}" if like else ""))
    return name


def _billed(path: Path, designed: Design, own: OwnFigures) -> tuple[Takeoff, Rates]:
    """A design's bill; what cannot be matched to it says which SPEC it is of."""
    from elevgen import pipeline

    try:
        with pipeline.faults_pointed_at(path):
            return pipeline.bill(designed, own)
    except RatesError as error:
        raise RatesError(error.faults, f"{error.source}, for {path}") from None


def _refuse_figures_nowhere(wanted: Sequence[str], prices: Path | None, kept: Path | None, specs: Sequence[Path]) -> None:
    """Figures that no file asked for would show, and one building's workbook for several."""
    option = "--prices" if prices else "--keep-rates"
    if (prices or kept) and wanted and not {"xlsx", "csv"} & set(wanted):
        _refuse(f"{option} fills in the workbook and the CSV: --formats must have xlsx or csv among them")
    if kept and len(specs) > 1:
        _refuse(f"--keep-rates carries one building's figures across: draw {specs[0]} and the others apart")


def _folders(output: Path | None, specs: Sequence[Path]) -> list[Path]:
    """A folder for each spec's set, named after it when there are several; two specs may not share one."""
    if output is not None and len(specs) == 1:
        return [output]
    folders = [(output or Path("dist")) / spec.stem for spec in specs]
    for number, folder in enumerate(folders):
        if folder in folders[:number]:
            _refuse(f"{specs[folders.index(folder)]} and {specs[number]} would both go into {folder}: draw them apart, with -o")
    return folders


@contextmanager
def _plain_errors() -> Iterator[None]:
    """Bad input and failed writing in words, never as a traceback."""
    try:
        yield
    except SpecError as error:
        for fault in error.faults:
            click.echo(_fault_text(error.source, fault), err=True)
        click.echo(f"{len(error.faults)} fault{'s' if len(error.faults) != 1 else ''}; nothing was written.", err=True)
        sys.exit(BAD_INPUT)
    except RatesError as error:
        for wrong in error.faults:
            click.echo(rate_fault_text(error.source, wrong), err=True)
        click.echo(f"{len(error.faults)} fault{'s' if len(error.faults) != 1 else ''}; nothing was written.", err=True)
        sys.exit(BAD_INPUT)
    except RuleDataError as error:
        _refuse(str(error))
    except BrokenPipeError:  # whoever reads what is said has read enough; click ends quietly
        raise
    except OutputError as error:
        click.echo(f"could not write {error.path}: {error.reason}. The set that was there is untouched.", err=True)
        sys.exit(COULD_NOT_WRITE)
    except OSError as error:
        _refuse(f"cannot read {error.filename}: {error.strerror}")


def _refuse(message: str) -> None:
    click.echo(message, err=True)
    sys.exit(BAD_INPUT)


def _fault_text(source: str, fault: Fault) -> str:
    place = f"{source}:{fault.line}:{fault.column}" if fault.line else source
    parts = [f"{place}: {fault.where}: {fault.message}"]
    if fault.given:
        parts.append(f"    given:   {fault.given}")
    if fault.allowed:
        parts.append(f"    allowed: {fault.allowed}")
    if fault.nearest:
        parts.append(f"    nearest: {fault.nearest}")
    return "\n".join(parts)


def _say_findings(findings: Sequence[Finding], everything: bool) -> None:
    """Findings worst first, passes only on request, and a count."""
    for finding in findings:
        if everything or finding.severity != "pass":
            click.echo(_finding_text(finding))
    _say_counts(findings)


def _say_worst(findings: Sequence[Finding], spec: Path) -> None:
    """What fails, as far as a terminal holds it, a count of everything, and where to read on."""
    failing = [f for f in findings if f.severity == "fail"]
    for finding in failing[:MOST_SHOWN]:
        click.echo(_finding_text(finding))
    if len(failing) > MOST_SHOWN:
        click.echo(f"  ... and {len(failing) - MOST_SHOWN} more that fail")
    _say_counts(findings)
    click.echo(f"  read them with: elevgen check {spec}")


def _say_cautions(designed: Design) -> None:
    """What can hurt somebody in building this, line by line; the caution of every set is said once, at the end."""
    from elevgen.drawing.cautions import cautions

    for caution in cautions(designed)[1:]:
        click.echo(f"  take care: {caution}")


def _say_aid() -> None:
    from elevgen.drawing.cautions import AID

    click.echo(AID)


def _finding_text(finding: Finding) -> str:
    waived = f"  [accepted: {finding.waiver}]" if finding.waiver else ""
    doubt = f"  [{finding.doubt}]" if finding.doubt else ""
    return f"  {finding.severity.replace('_', ' '):<11}  {finding.code:<26} {finding.where}: {finding.text}{doubt}{waived}"


def _say_counts(findings: Iterable[Finding]) -> None:
    counts = Counter(f.severity for f in findings)
    click.echo("  " + ", ".join(f"{counts[s]} {s.replace('_', ' ')}" for s in SEVERITIES if counts[s]))


def _finding_rows(findings: Iterable[Finding], everything: bool) -> list[dict[str, object]]:
    return [f.record() for f in findings if everything or f.severity != "pass"]
