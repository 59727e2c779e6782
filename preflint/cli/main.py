"""The commands, and the one way out of the program."""

import contextlib
import sys
from typing import NoReturn

import click

from preflint.cli.catalogue import catalogue
from preflint.cli.draft import draft
from preflint.cli.exits import INTERRUPTED, NOT_JUDGED, TOOL_FAILED, USAGE
from preflint.cli.inspect import inspect
from preflint.cli.schema import schema
from preflint.errors import NotRead, OutputError, UsageError
from preflint.version import __version__


@click.group(context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 80})
@click.version_option(__version__, message="preflint %(version)s")
def main() -> None:
    """Says what does not add up on a multirotor before its props turn.

    You write down what is fitted, what the instruments showed and what work was
    done since, in a file NAME.airframe.yaml. Start with: preflint draft
    """


for _command in (inspect, catalogue, draft, schema):
    main.add_command(_command)


def run() -> NoReturn:
    """The console script: every way to fail has its own exit code and one line, never a traceback."""
    try:
        code = main(standalone_mode=False, prog_name="preflint")
        sys.exit(code if isinstance(code, int) else 0)
    except click.ClickException as error:
        error.show()
        sys.exit(USAGE)
    except UsageError as error:
        _say(error)
        sys.exit(USAGE)
    except NotRead as error:
        _say(error)
        sys.exit(NOT_JUDGED)
    except OutputError as error:
        _say(error)
        sys.exit(TOOL_FAILED)
    except (KeyboardInterrupt, click.Abort):
        _say("interrupted: what had not been judged yet was not judged")
        sys.exit(INTERRUPTED)
    except Exception as error:  # the last resort: honest about whose fault it is
        _say(f"a fault in preflint itself, nothing is to be concluded: {type(error).__name__}: {error}")
        sys.exit(TOOL_FAILED)


def _say(what: object) -> None:
    text = "".join(c if c.isprintable() else f"\\x{ord(c):02x}" for c in f"preflint: {what}")
    with contextlib.suppress(OSError):  # nobody is listening; the exit code still tells
        print(text.encode("ascii", "backslashreplace").decode(), file=sys.stderr)
