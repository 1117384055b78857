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
from elevgen.core.version import VERSION
from elevgen.result import SEVERITIES, Design, Finding
from elevgen.rules.book import RuleBook

if TYPE_CHECKING:
    from elevgen.pipeline import OwnFigures
    from elevgen.takeoff.model import Takeoff
    from elevgen.takeoff.rates import Rates

BAD_INPUT = 2
COULD_NOT_WRITE = 3

MOST_SHOWN = 12
"""Failing findings said while drawing; all of them are in the set and in `check`."""

CAUTION = (
    "A setting-out aid, not a structural design. Lintels, loads and stability: to be confirmed by a qualified engineer. "
    "Local codes and licensed practice govern."
)

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
    click.echo(CAUTION)


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
        click.echo(CAUTION)
    failing = any(f.severity == "fail" and not f.waiver for _, d in designs for f in d.findings)
    sys.exit(1 if failing else 0)


@main.command()
@click.argument("rule_set", required=False, metavar="[ID]")
@click.option("--key", default="", help="Only rules whose key holds this text.")
def rules(rule_set: str | None, key: str) -> None:
    """List the rule sets, or the values of one: source, how it is known, what is not covered."""
    from elevgen.rules.loader import country_ids, load_book

    if rule_set is None:
        for name in country_ids():
            book = load_book(name)
            click.echo(f"{name}  {book.title}, edition {book.edition}: {len(book.values)} values")
        return
    if rule_set not in country_ids():
        _refuse(f"no rule set {rule_set!r}; there is: {', '.join(country_ids())}")
    with _plain_errors():
        _say_rules(load_book(rule_set), key)


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


def _say_rules(book: RuleBook, part: str) -> None:
    """Every value with its source, then what is not covered and why."""
    from elevgen.rules.listing import rule_rows, uncovered_rows

    click.echo(f"{book.title}, edition {book.edition}")
    for row in rule_rows(book, part):
        source = ", ".join(text for text in (row.document, row.edition, row.clause) if text)
        click.echo(f"\n{row.key} = {row.value}\n    {row.meaning}\n    {source or 'no document'} ({row.known})")
        for text in (*([f"note: {row.note}"] if row.note else []), *(f"other figure: {other}" for other in row.alternatives)):
            click.echo(f"    {text}")
    if uncovered := uncovered_rows(book, part):
        click.echo("\nNot covered:")
        for gap in uncovered:
            click.echo(f"    {gap.key}: {gap.reason}")


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


def _finding_text(finding: Finding) -> str:
    waived = f"  [accepted: {finding.waiver}]" if finding.waiver else ""
    return f"  {finding.severity.replace('_', ' '):<11}  {finding.code:<26} {finding.where}: {finding.text}{waived}"


def _say_counts(findings: Iterable[Finding]) -> None:
    counts = Counter(f.severity for f in findings)
    click.echo("  " + ", ".join(f"{counts[s]} {s.replace('_', ' ')}" for s in SEVERITIES if counts[s]))


def _finding_rows(findings: Iterable[Finding], everything: bool) -> list[dict[str, object]]:
    return [f.record() for f in findings if everything or f.severity != "pass"]
