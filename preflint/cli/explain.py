"""``preflint explain``: what a name means, how it is learnt, and the lines to paste."""

import click
from click.shell_completion import CompletionItem


def _names(_context: click.Context, _parameter: click.Parameter, start: str) -> list[CompletionItem]:
    from preflint.engine.rule_module import builtin_and
    from preflint.meanings.look_up import names

    return [CompletionItem(name) for name in names(builtin_and(())) if name.startswith(start)]


@click.command()
@click.argument("name", nargs=-1, required=True, metavar="NAME", shell_complete=_names)
@click.option("--rules", multiple=True, metavar="MODULE", help="Also know the rules of this installed module.")
def explain(name: tuple[str, ...], rules: tuple[str, ...]) -> None:
    """Say what NAME means.

    NAME is a key in your file (hand, prop.hand), a kind of record (spin_test),
    a rule (retention/nut-hand), a limit, or a word of a report (unproven,
    domed side).
    """
    from preflint.cli.output import write
    from preflint.cli.terminal import only_ascii, width
    from preflint.interface import explain as explained

    write(explained(" ".join(name), rules=rules, width=width(), ascii_only=only_ascii()), None)
