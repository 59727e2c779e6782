"""``preflint catalogue``: every rule in a line, a topic in full, or the manual page of one."""

import click
from click.shell_completion import CompletionItem


def _names(_context: click.Context, _parameter: click.Parameter, start: str) -> list[CompletionItem]:
    from preflint.engine.rule_module import builtin_and

    rules = [rule.info for rule in builtin_and(()).rules]
    every = dict.fromkeys(name for rule in rules for name in (rule.topic, rule.id))
    return [CompletionItem(name) for name in every if name.startswith(start)]


@click.command(short_help="List every rule, or print the page of one.")
@click.argument("name", required=False, metavar="[TOPIC | RULE]", shell_complete=_names)
@click.option(
    "--rules", multiple=True, metavar="MODULE", help="Also list the rules of this installed module."
)
def catalogue(name: str | None, rules: tuple[str, ...]) -> None:
    """List every rule, tell more of a TOPIC, or print the manual page of a RULE."""
    from preflint.cli.output import write
    from preflint.cli.terminal import width
    from preflint.engine.rule_module import builtin_and
    from preflint.render.catalogue import all_rules, told

    registry = builtin_and(rules)
    write(all_rules(registry, width()) if name is None else told(registry, name, width()), None)
