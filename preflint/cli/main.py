"""The commands, and the one way out of the program."""

import contextlib
import gc
import os
import sys
from collections.abc import Sequence
from importlib import import_module
from typing import TYPE_CHECKING, NoReturn

import click

from preflint.arrays import one_thread
from preflint.cli.exits import INTERRUPTED, NONE_GROUNDED, NOT_JUDGED, TOOL_FAILED, USAGE
from preflint.cli.imports import taken_from_the_current_folder
from preflint.cli.streams import complete_streams, finish_streams
from preflint.version import __version__

if TYPE_CHECKING:
    from preflint.errors import Problem

_COMMANDS = {  # in the order of use: where each stands, and what it does
    "draft": ("preflint.cli.draft", "Begin: write a file to fill in, with all that flight needs."),
    "inspect": ("preflint.cli.inspect", "Judge aircraft, and say what to do next."),
    "record": ("preflint.cli.record.command", "Add a test, a reading or work done to the file."),
    "explain": ("preflint.cli.explain", "Say what a word means, and how to write it down."),
    "catalogue": ("preflint.cli.catalogue", "List every rule, or print the page of one."),
    "schema": ("preflint.cli.schema", "Print a schema, for editors and programs."),
    "language-server": ("preflint.cli.language_server", "Serve an editor over standard input and output."),
}


class _Commands(click.Group):
    """Loads a command where it is named, and none to list them: the rest of the program is far longer to load."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        return list(_COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        if cmd_name not in _COMMANDS:
            return None
        command: click.Command = getattr(import_module(_COMMANDS[cmd_name][0]), cmd_name.replace("-", "_"))
        return command

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        with formatter.section("Commands"):
            formatter.write_dl([(name, does) for name, (_, does) in _COMMANDS.items()])


@click.group(cls=_Commands, context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 80})
@click.version_option(__version__, message="preflint %(version)s")
def main() -> None:
    """Says what does not add up on a multirotor before its props turn.

    You write down what is fitted, what the instruments showed and what work was
    done since, in a file NAME.airframe.yaml (its manifest).

    \b
    preflint draft --ask               begins one, question by question
    preflint inspect FILE              says what to do next
    preflint record spin_test FILE     adds what a test showed
    """


def run() -> NoReturn:
    """The console script: every way to fail has its own exit code and one line, never a traceback."""
    complete_streams()
    one_thread(os.environ)
    # Judging leaves no circles, and to look for some as often as Python does takes a tenth of a run over many aircraft.
    gc.set_threshold(100_000, 20, 20)
    code = _code()
    finish_streams()
    gc.freeze()  # or Python looks, as it ends, for circles among all that was loaded: a fifth of a short run
    sys.exit(code)


def _code() -> int:
    try:
        if strangers := taken_from_the_current_folder():
            _say(f"PYTHONPATH names the current folder, and Python took {strangers[0]} from it")
            return USAGE
        code = main(standalone_mode=False, prog_name="preflint")
        return code if isinstance(code, int) else NONE_GROUNDED
    except click.MissingParameter as error:
        _say_missing(error)
        return USAGE
    except click.ClickException as error:
        with contextlib.suppress(OSError):
            error.show()
        return USAGE
    except (KeyboardInterrupt, click.Abort):
        _say("interrupted: what had not been judged yet was not judged")
        return INTERRUPTED
    except SystemExit as end:  # of shell completion, or where nobody reads what click prints
        return TOOL_FAILED if end.code else NONE_GROUNDED
    except BaseException as error:
        return _failed(error)


def _failed(failure: BaseException) -> int:
    """Says what went wrong; at last, honest about whose fault it is."""
    from preflint.errors import NotRead, OutputError, UsageError, told  # which help and version do without

    if isinstance(failure, UsageError):
        _say_problems(failure.said, failure.problems)
        return USAGE
    if isinstance(failure, NotRead):
        _say_problems(failure.file, failure.problems)
        return NOT_JUDGED
    if isinstance(failure, OutputError):
        if not isinstance(failure.__cause__, BrokenPipeError):  # who reads no further knows
            _say(failure)
    elif isinstance(failure, OSError):
        _say(f"nothing is to be concluded: {told(failure)}")
    else:
        _say(f"a fault in preflint itself, nothing is to be concluded: {told(failure)}")
    return TOOL_FAILED


def _say_missing(error: click.MissingParameter) -> None:
    """What is missing, and how the whole command is written."""
    assert error.ctx
    assert error.param
    command = error.ctx.command_path
    words = [word for word in error.ctx.command.collect_usage_pieces(error.ctx) if word != "[OPTIONS]"]
    _say(f"{error.param.human_readable_name.upper()} is missing; write: {' '.join([command, *words])}")
    with contextlib.suppress(OSError):
        print(f"For what each may be: {command} --help", file=sys.stderr)


def _say_problems(what: str, problems: "Sequence[Problem]") -> None:
    if not problems:
        _say(what)
        return
    import shutil

    from preflint.render.page import Page
    from preflint.render.problems import tell

    width = min(max(shutil.get_terminal_size().columns, 40), 100) if sys.stderr.isatty() else 80
    page = Page(width, ascii_only=True, colour=False)
    page.say(f"preflint: {what}:")
    tell(page, problems, "    ")
    with contextlib.suppress(OSError):
        print(page.text(), end="", file=sys.stderr)


def _say(what: object) -> None:
    text = "".join(c if c.isprintable() else f"\\x{ord(c):02x}" for c in f"preflint: {what}")
    with contextlib.suppress(OSError):  # nobody is listening; the exit code still tells
        print(text.encode("ascii", "backslashreplace").decode(), file=sys.stderr)
