"""The command `xref`: global options, commands loaded when asked for, errors as one sentence."""

from __future__ import annotations

import importlib
from collections.abc import Sequence
from pathlib import Path
from typing import Annotated, Any

import typer
from typer.core import TyperGroup
from typer.exceptions import TyperException

from xref import __version__
from xref.cli.options import Session
from xref.cli.terminal import results, talk, write_json
from xref.errors import CannotWrite, UsageError, XrefError
from xref.workspace import find_workspace

#: Every command, in the order of a day's work; each is `run` in `xref/cli/<name>.py`.
COMMANDS: tuple[str, ...] = (
    "index",
    "circuit",
    "connector",
    "find",
    "trace",
    "inlines",
    "color",
    "check",
    "page",
    "sheet",
    "plan",
    "export",
    "doctor",
)

HELP_NAMES = {"help_option_names": ["--help", "-h"]}

#: Exit code after Ctrl-C, as shells give it: 128 + SIGINT.
INTERRUPTED = 130

#: Options of `xref` itself; they may also stand after the command's name. True: a value follows.
_GLOBAL_OPTIONS = {"--workspace": True, "-w": True, "--quiet": False, "-q": False}


class _Commands(TyperGroup):
    """Imports a command's module only when that command (or the help) is asked for."""

    def list_commands(self, ctx: Any) -> list[str]:
        return list(COMMANDS)

    def get_command(self, ctx: Any, cmd_name: str) -> Any:
        if cmd_name not in COMMANDS:
            return None
        if cmd_name not in self.commands:
            self.commands[cmd_name] = load_command(cmd_name)
        return self.commands[cmd_name]


def load_command(name: str) -> Any:
    """Return the command `name`, built from `run` in its module.

    Where the module has SUBCOMMANDS, `run` is what the command does without one.
    """
    module = importlib.import_module(f"xref.cli.{name}")
    app = typer.Typer(add_completion=False, rich_markup_mode=None, context_settings=HELP_NAMES)
    further = getattr(module, "SUBCOMMANDS", {})
    if further:
        app.callback(invoke_without_command=True)(module.run)
        for own, run in further.items():
            app.command(name=own)(run)
    else:
        app.command(name=name)(module.run)
    return typer.main.get_command(app)


def _version(asked: bool) -> None:
    if asked:
        results().line(f"xref {__version__}")
        raise typer.Exit()


def _globals(
    ctx: typer.Context,
    workspace: Annotated[
        Path | None,
        typer.Option(
            "--workspace",
            "-w",
            metavar="DIR",
            envvar="XREF_WORKSPACE",
            help="Folder that holds .xref/ (default: the nearest one upward, else this folder).",
        ),
    ] = None,
    quiet: Annotated[
        bool, typer.Option("--quiet", "-q", help="No progress, no remarks on stderr.", show_default=False)
    ] = False,
    version: Annotated[
        bool,
        typer.Option(
            "--version", callback=_version, is_eager=True, help="Print the version.", show_default=False
        ),
    ] = False,
) -> None:
    """Read the pinout tables out of your own service manuals; see where else a circuit appears.

    Start with `xref index FOLDER`. Read the page beside every row before you cut a wire.
    """
    ctx.obj = Session(workspace=find_workspace(workspace), quiet=quiet)


def application() -> Any:
    """Return the whole command line as one object, commands not loaded yet."""
    app = typer.Typer(
        cls=_Commands,
        callback=_globals,
        rich_markup_mode=None,
        pretty_exceptions_enable=False,
        context_settings=HELP_NAMES,
    )
    return typer.main.get_command(app)


def run(arguments: Sequence[str]) -> int:
    """Run one command line and return its exit code; an error becomes one sentence, never a traceback."""
    arguments = globals_first(arguments)
    as_json = "--json" in arguments
    try:
        code = application().main(args=arguments or ["--help"], prog_name="xref", standalone_mode=False)
    except XrefError as error:
        return _say_error(error, as_json)
    except TyperException as error:
        return _say_error(UsageError(error.format_message(), hint="See xref --help."), as_json)
    except BrokenPipeError:
        raise
    except OSError as error:
        return _say_error(CannotWrite(_os_sentence(error)), as_json)
    if code == INTERRUPTED:
        talk().line("xref: stopped.")
    return code if arguments else UsageError.exit_code


def globals_first(arguments: Sequence[str]) -> list[str]:
    """Bring global options to the front, so that they may also be typed after the command's name."""
    front: list[str] = []
    rest: list[str] = []
    todo = list(arguments)
    while todo:
        argument = todo.pop(0)
        if argument == "--":
            rest += [argument, *todo]
            break
        name = argument.partition("=")[0] if argument.startswith("--") else argument
        if name not in _GLOBAL_OPTIONS:
            rest.append(argument)
            continue
        front.append(argument)
        if _GLOBAL_OPTIONS[name] and name == argument and todo:
            front.append(todo.pop(0))
    return front + rest


def _say_error(error: XrefError, as_json: bool) -> int:
    if as_json:
        write_json({"error": {"code": error.code, "message": error.message, "hint": error.hint}})
    else:
        talk().line(f"xref: {error.message} {error.hint}".rstrip(), "error")
    return error.exit_code


def _os_sentence(error: OSError) -> str:
    what = error.strerror or str(error) or type(error).__name__
    return f"{error.filename}: {what}." if error.filename else f"{what}."
