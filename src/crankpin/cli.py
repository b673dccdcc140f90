"""The command ``crankpin``: build the course, serve it, ask a calculator.

This module may import: everything. Each command loads what it needs when it is called, so that
``crankpin --help`` answers at once.
"""

import io
import sys
import time
from pathlib import Path

import click

from crankpin import __version__

COURSE = click.option(
    "--course",
    type=click.Path(exists=True, file_okay=False, path_type=Path),
    default=Path(),
    show_default="this folder",
    help="The folder that holds the course's mkdocs.yml.",
)


@click.group(context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__)
def main() -> None:
    """Build a course in which every number can be recalculated, serve it, or ask a calculator here."""


@main.command()
@COURSE
@click.option("--address", help="Where the site will live; the printed QR codes lead there.")
@click.option("--strict", is_flag=True, help="Stop at the first warning.")
@click.option("--no-paper", is_flag=True, help="Leave the printing out.")
def site(course: Path, address: str | None, strict: bool, no_paper: bool) -> None:
    """Build the course into the folder site/, and print it into site/print/."""
    from crankpin.build import BuildFailedError, build_site

    started = time.monotonic()
    try:
        folder = build_site(course, address=address, strict=strict, paper=not no_paper)
    except BuildFailedError as error:
        raise click.ClickException(str(error)) from error
    click.echo(f"{time.monotonic() - started:6.1f} s  the site is built in {folder}")


@main.command("print")
@COURSE
@click.option("--address", help="Where the site will live; the printed QR codes lead there.")
@click.option("--sheet", type=click.Choice(["A4", "Letter"]), help="The size of the paper.")
def print_(course: Path, address: str | None, sheet: str | None) -> None:
    """Print the built course: a PDF for each chapter, and one for the whole course."""
    from crankpin.build import BuildFailedError, print_site

    try:
        files = print_site(course, address=address, sheet=sheet)
    except BuildFailedError as error:
        raise click.ClickException(str(error)) from error
    for file in files:
        click.echo(str(file))


@main.command()
@COURSE
@click.argument("files", nargs=-1, required=True, type=click.Path(exists=True, dir_okay=False, path_type=Path))
@click.option("--problem", "wanted", multiple=True, metavar="ID", help="A problem of these files; all if left out.")
@click.option("--sheets", "number", type=click.IntRange(1, 200), default=10, show_default=True, help="How many.")
@click.option("--title", default="Problems", show_default=True, help="Stands at the head of each sheet.")
@click.option("--word", default="", help="For a graded set: a word that you keep; the numbers follow from it.")
@click.option("--out", type=click.Path(file_okay=False, path_type=Path), help="A folder outside docs and site.")
def sheets(
    course: Path, files: tuple[Path, ...], wanted: tuple[str, ...], number: int, title: str, word: str, out: Path | None
) -> None:
    """Print numbered worksheets from files of problems, with a key and worked solutions for the teacher."""
    from crankpin.build import BuildFailedError, print_sheets

    try:
        written = print_sheets(course, files, wanted, number=number, title=title, word=word, out=out)
    except BuildFailedError as error:
        raise click.ClickException(str(error)) from error
    for file in written:
        click.echo(str(file))


@main.command()
@COURSE
@click.argument("files", nargs=-1, type=click.Path(exists=True, dir_okay=False, path_type=Path))
@click.option("--sets", type=click.IntRange(1, 200), default=10, show_default=True, help="Sets of numbers of each.")
@click.option("--word", default="", help="For a graded set: a word that you keep; the numbers follow from it.")
@click.option("--title", default="Problems", show_default=True, help="The name of the test.")
@click.option("--out", type=click.Path(file_okay=False, path_type=Path), help="A folder outside docs and site.")
def handover(course: Path, files: tuple[Path, ...], sets: int, word: str, title: str, out: Path | None) -> None:
    """Pack problems (QTI 2.1 and 1.2) and links to the course (Common Cartridge 1.3) for a learning platform."""
    from crankpin.build import BuildFailedError, write_packages

    try:
        written = write_packages(course, files, sets=sets, word=word, title=title, out=out)
    except BuildFailedError as error:
        raise click.ClickException(str(error)) from error
    for file in written:
        click.echo(str(file))


@main.command("check")
@COURSE
@click.option(
    "--variants", type=click.IntRange(1, 1000), default=1000, show_default=True, help="Solved of each problem."
)
@click.option("--json", "as_json", is_flag=True, help="Print one JSON object.")
def check(course: Path, variants: int, as_json: bool) -> None:
    """Check the whole course: numbers, checks, problems, links, units, words of pictures, sizes of pages."""
    import json

    from crankpin.build import BuildFailedError
    from crankpin.checking import check_course

    try:
        report = check_course(course, variants)
    except BuildFailedError as error:
        raise click.ClickException(str(error)) from error
    click.echo(json.dumps(report.as_data(), ensure_ascii=False) if as_json else report.as_text())
    if not report.is_sound:
        sys.exit(1)


@main.command("teacher")
@COURSE
@click.argument("files", nargs=-1, required=True, type=click.Path(exists=True, dir_okay=False, path_type=Path))
@click.option("--out", type=click.Path(file_okay=False, path_type=Path), help="A folder outside docs and site.")
def teacher(course: Path, files: tuple[Path, ...], out: Path | None) -> None:
    """Print every problem of some files for the teacher, with its slips, its marks and three sets of numbers."""
    from crankpin.build import BuildFailedError, print_teachers_page

    try:
        click.echo(str(print_teachers_page(course, files, out)))
    except BuildFailedError as error:
        raise click.ClickException(str(error)) from error


@main.command()
@COURSE
@click.option("--port", type=click.IntRange(1, 65435), help="The first port to try; 8000 and up if left out.")
@click.option("--here-only", is_flag=True, help="Answer this machine alone, not the network.")
def serve(course: Path, port: int | None, here_only: bool) -> None:
    """Serve the built site to this machine and to the phones on its network; what is changed is shown at once."""
    from crankpin import server
    from crankpin.build import BuildFailedError, site_to_serve
    from crankpin.drafts import Drafts
    from crankpin.site.policy import HEADERS

    try:
        folder, prefix = site_to_serve(course)
        host = "127.0.0.1" if here_only else ""
        served = server.Site(folder, prefix, HEADERS)
        running = server.open_server(served, host, port or server.FIRST_PORT)
    except (BuildFailedError, OSError) as error:
        raise click.ClickException(str(error)) from error
    path = f"{running.server_port}{prefix}"
    click.echo(f"On this machine:  http://localhost:{path}")
    nearby = None if here_only else server.network_address()
    if nearby:
        click.echo(f"On this network:  http://{nearby}:{path}")
        show_code(f"http://{nearby}:{path}")
    click.echo("Ctrl+C ends it.")
    drafts = Drafts(course, served, click.echo)
    drafts.start()
    try:
        running.serve_forever()
    except KeyboardInterrupt:
        click.echo()
    finally:
        drafts.close()
        running.server_close()


@main.command()
@COURSE
@click.option("--out", type=click.Path(dir_okay=False, path_type=Path), help="The zip to write.")
def pack(course: Path, out: Path | None) -> None:
    """Pack the built site into one zip for a room without internet, with a starter that needs Python alone."""
    from crankpin.build import BuildFailedError, pack_course

    try:
        click.echo(str(pack_course(course, out)))
    except (BuildFailedError, OSError) as error:
        raise click.ClickException(str(error)) from error


@main.command()
@COURSE
@click.argument("old")
@click.argument("new")
def changes(course: Path, old: str, new: str) -> None:
    """List every number, result, formula and figure that came out differently; OLD, NEW: built sites or commits."""
    from itertools import groupby

    from crankpin.build import BuildFailedError
    from crankpin.build import changes as changes_between

    try:
        found = changes_between(course, old, new)
    except BuildFailedError as error:
        raise click.ClickException(str(error)) from error
    for page, of_page in groupby(found, key=lambda change: change.page):
        click.echo(page)
        for change in of_page:
            click.echo(f"  {change}")
    click.echo(f"{len(found)} changes" if found else "Nothing came out differently.")


@main.command()
@COURSE
@click.argument("words", nargs=-1, required=True, metavar="FOLDER | chapter|calculator|problem|card NAME")
@click.option("--like", default="", metavar="CALCULATOR", help="Begin a calculator as a copy of a ready-made one.")
def new(course: Path, words: tuple[str, ...], like: str) -> None:
    """Begin a course in a new folder, or add a chapter, calculator, problem or bench card to one."""
    from crankpin import scaffold

    makers = {
        "chapter": scaffold.new_chapter,
        "calculator": lambda folder, name: scaffold.new_calculator(folder, name, like),
        "problem": scaffold.new_problem,
        "card": scaffold.new_card,
    }
    try:
        if len(words) == 2 and words[0] in makers:
            made = makers[words[0]](course, words[1])
        elif len(words) == 1 and words[0] not in makers:
            made = scaffold.new_course(Path(words[0]))
        else:
            raise click.UsageError(f"give a folder, or one of {', '.join(makers)} and a name, such as: chapter waves")
    except (scaffold.ScaffoldError, OSError) as error:
        raise click.ClickException(str(error)) from error
    for path in made:
        click.echo(str(path))


@main.command()
@COURSE
@click.argument("name", metavar="CALCULATOR")
@click.option("--set", "settings", multiple=True, metavar="KEY=VALUE", help="An input, for example A=12cm.")
@click.option("--find", metavar="KEY", help="An input that is asked; give a result with --set in its place.")
@click.option("--table", type=click.Path(dir_okay=False, path_type=Path), help="A file of rows for a table input.")
@click.option("--columns", default="", metavar="1,3", help="Which columns of the file to use, in the order asked for.")
@click.option("--json", "as_json", is_flag=True, help="Print one JSON object, with every digit.")
def calc(
    course: Path,
    name: str,
    settings: tuple[str, ...],
    find: str | None,
    table: Path | None,
    columns: str,
    as_json: bool,
) -> None:
    """Ask a calculator; inputs left out take their defaults."""
    import json

    from crankpin import calc as calculations

    try:
        folder = calculations.find_calculators(course.resolve())
        evaluation = calculations.ask(name, settings, table, folder, columns=columns, find=find)
    except calculations.AskError as error:
        click.echo(error, err=True)
        sys.exit(2)
    for note in calculations.notes(evaluation):
        click.echo(note, err=True)
    click.echo(
        json.dumps(calculations.as_data(name, evaluation), ensure_ascii=False)
        if as_json
        else calculations.as_text(evaluation)
    )


@main.command()
@COURSE
@click.argument("name", metavar="CALCULATOR")
@click.option("--set", "settings", multiple=True, metavar="KEY=VALUE", help="An input, for example A=12cm.")
@click.option("--find", metavar="KEY", help="An input that is asked; give a result with --set in its place.")
@click.option("--readings", type=click.Path(dir_okay=False, path_type=Path), help="A file of rows to draw.")
@click.option("--columns", default="", metavar="1,3", help="Which columns of the file to use, in the order asked for.")
@click.option("--out", type=click.Path(path_type=Path), help="The .svg or .png to write; CALCULATOR.svg if left out.")
@click.option("--table", type=click.Path(path_type=Path), help="A .csv to write with every point of the curves.")
def picture(
    course: Path,
    name: str,
    settings: tuple[str, ...],
    find: str | None,
    readings: Path | None,
    columns: str,
    out: Path | None,
    table: Path | None,
) -> None:
    """Save a calculator's picture for a slide or an exam paper, or its curves as a table, with the numbers inside."""
    from crankpin import calc as calculations
    from crankpin import picture as pictures

    try:
        pictures.check_names(out, table)
        folder = calculations.find_calculators(course.resolve())
        evaluation = calculations.ask(
            name, settings, readings, folder, columns=columns, find=find, table_option="--readings"
        )
        wanted = out or (None if table else Path(f"{name}.svg"))
        written = pictures.save(name, evaluation, wanted, table)
    except calculations.AskError as error:
        click.echo(error, err=True)
        sys.exit(2)
    for note in calculations.notes(evaluation):
        click.echo(note, err=True)
    for file in written:
        click.echo(str(file))


def show_code(address: str) -> None:
    """Draw the address as a QR code, for phones to scan from the screen; a file or a pipe gets none.

    It is drawn in white on black whatever the terminal's own colours, since not every phone reads it the other way.
    """
    if not sys.stdout.isatty() or "utf" not in sys.stdout.encoding.lower():
        return
    import segno

    drawn = io.StringIO()
    segno.make(address, error="m", micro=False).terminal(out=drawn, compact=True)
    for line in drawn.getvalue().splitlines():
        click.echo(f"\x1b[38;5;231;48;5;16m{line}\x1b[0m")
