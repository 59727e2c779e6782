"""``preflint catalogue``: every rule, or the manual page of one."""

import click
from click.shell_completion import CompletionItem


def _rule_ids(_context: click.Context, _parameter: click.Parameter, start: str) -> list[CompletionItem]:
    from preflint.engine.rule_module import builtin_and

    return [CompletionItem(rule.info.id) for rule in builtin_and(()).rules if rule.info.id.startswith(start)]


@click.command(short_help="List every rule, or explain one.")
@click.argument("rule", required=False, shell_complete=_rule_ids)
@click.option(
    "--rules", multiple=True, metavar="MODULE", help="Also list the rules of this installed module."
)
def catalogue(rule: str | None, rules: tuple[str, ...]) -> None:
    """List every rule by topic, or print the manual page of RULE."""
    from preflint.cli.output import write
    from preflint.engine.rule_module import builtin_and
    from preflint.render.catalogue import all_rules, manual_page

    registry = builtin_and(rules)
    write(all_rules(registry) if rule is None else manual_page(registry, rule), None)
