"""The command line: ``new``, ``check``, ``build``, ``view``, ``what-if``, ``schema``.

Results go to standard output, messages to standard error. Nothing heavy is imported before a verb
asks for it.
"""

import os
import signal
import sys
from pathlib import Path
from types import FrameType
from typing import Annotated, NoReturn

import typer

from ground.errors import WorkError

FINDING, UNUSABLE, FAULT, STOPPED = 1, 2, 70, 130
"""Exit statuses: an error finding; the call or the text is not usable; a fault of the program's
own (EX_SOFTWARE of sysexits.h); ended by Ctrl-C."""

NO_READER = 141
"""Whoever read the results went away, as a shell counts it (128 + SIGPIPE)."""

app = typer.Typer(
    name="casewright",
    add_completion=False,
    no_args_is_help=True,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
    help="Work out a cabinet on legs from one written description of it.",
)

SpecPath = Annotated[Path, typer.Argument(metavar="SPEC", help="The description of the piece.")]


def show_version(wanted: bool) -> None:  # noqa: FBT001 - typer calls it so
    """Print the version and end."""
    if wanted:
        from casewright.version import version

        typer.echo(f"casewright {version()}")
        raise typer.Exit


@app.callback()
def start(
    *,
    version: Annotated[
        bool,
        typer.Option("--version", callback=show_version, is_eager=True, help="Print the version."),
    ] = False,
) -> None:
    """Work out a cabinet on legs from one written description of it."""
    del version  # its callback has done it


@app.command()
def new(
    folder: Annotated[Path, typer.Argument(metavar="DIR", help="Folder for it.")],
) -> None:
    """Write a description to start from: DIR/piece.yaml."""
    from casewright.start import write_starter

    path = write_starter(folder)
    typer.echo(str(path))


@app.command()
def check(
    spec: SpecPath,
    *,
    json: Annotated[bool, typer.Option("--json", help="Print the findings as JSON.")] = False,
    exact: Annotated[
        bool, typer.Option("--exact", help="Look again on the exact solids; takes as a build does.")
    ] = False,
) -> None:
    """Read, set out and check; write nothing."""
    from casewright import report
    from casewright.checking import check as look
    from casewright.checking import has_error

    checked = look(spec)
    findings = checked.findings
    if exact:
        from casewright.exact import exact_findings

        findings = (*findings, *exact_findings(checked))
    if json:
        from exporters.feature_record import finding
        from exporters.json_text import text

        typer.echo(text([finding(found) for found in findings]), nl=False)
    else:
        lines = report.of_check(checked.assembly, findings, checked.spec.units)
        typer.echo("\n".join(lines))
    raise typer.Exit(FINDING if has_error(findings) else 0)


@app.command()
def build(
    spec: SpecPath,
    out: Annotated[str, typer.Option(metavar="DIR", help="Folder for the whole package.")],
    only: Annotated[
        str,
        typer.Option(metavar="NAME,...", help="Write only these files, folders or parts."),
    ] = "",
) -> None:
    """Build the package: solids, drawings, lists."""
    from casewright import report
    from casewright.building import build as make
    from casewright.checking import has_error
    from casewright.progress import Progress

    wanted = tuple(name.strip() for name in only.split(",") if name.strip())
    with Progress(sys.stderr) as progress:
        built = make(spec, out, only=wanted, progress=progress)
    typer.echo("\n".join(report.of_findings(built.findings)))
    typer.echo(f"{out}: {report.count(built.files, 'file', 'files')}")
    raise typer.Exit(FINDING if has_error(built.findings) else 0)


@app.command("what-if")
def what_if(
    spec: SpecPath,
    part: Annotated[str, typer.Argument(metavar="PART", help="Its label, such as B1.")],
    step: Annotated[int, typer.Argument(metavar="STEP", help="Its number in saw-set-ups.csv.")],
    words: Annotated[
        str,
        typer.Argument(
            metavar="WORDS",
            help="What was really set or measured: '5 degrees, no wedge', 'came out 53.6 at foot'.",
        ),
    ],
) -> None:
    """Say what a wrong saw setting has made of a part, and the cut that saves it."""
    from casewright.what_if import answer

    typer.echo("\n".join(answer(spec, part, step, words)))


@app.command()
def view(
    spec: SpecPath,
    *,
    out: Annotated[
        str,
        typer.Option(metavar="DIR", help="Folder for what its buttons write; else SPEC-out."),
    ] = "",
    port: Annotated[int, typer.Option(help="Port on this machine; 0 is any free one.")] = 0,
    browser: Annotated[bool, typer.Option(help="Open the browser.")] = True,
) -> None:
    """Show the piece while its description is written, until Ctrl-C."""
    from casewright.live.serve import View, serve

    folder = Path(out) if out else spec.with_name(f"{spec.stem}-out")
    serve(View(spec=spec, out=folder, port=port, browser=browser), typer.echo)


@app.command()
def schema() -> None:
    """Print the JSON Schema of a description."""
    import json

    from specs.schema import schema as whole

    typer.echo(json.dumps(whole(), indent=2, ensure_ascii=False))


def main() -> int:
    """Run the command line and return its exit status: never a traceback."""
    signal.signal(signal.SIGTERM, stop)
    try:
        status: int = app(prog_name="casewright", standalone_mode=False) or 0
    except typer.TyperException as error:
        context = getattr(error, "ctx", None)
        say(f"{context.get_usage()}\n\n{error.format_message()}" if context else str(error))
        return UNUSABLE
    except WorkError as error:
        say(str(error))
        return UNUSABLE
    except BrokenPipeError:
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, sys.stdout.fileno())  # or the interpreter complains as it closes it
        return NO_READER
    except Exception as error:  # noqa: BLE001 - the last resort
        return fault(error)
    if status == STOPPED:
        say("stopped; nothing was written")
    return status


def say(message: str) -> None:
    """Write a message for the person at the terminal."""
    typer.echo(message, err=True)


def stop(number: int, _frame: FrameType | None) -> NoReturn:
    """End as Ctrl-C does, so that nothing is left lying about.

    Raises:
        SystemExit: always.
    """
    raise SystemExit(128 + number)


def fault(error: Exception) -> int:
    """Say that the program itself is at fault, where, and what to do with that."""
    import traceback

    from casewright.version import version

    frame = traceback.extract_tb(error.__traceback__)[-1]
    text = " ".join(str(error).split())
    say(
        f"a fault in casewright {version()}, not in your spec: {type(error).__name__}: {text}"
        f" ({Path(frame.filename).name}, line {frame.lineno});"
        " nothing was written; please report this line together with the spec"
    )
    return FAULT
