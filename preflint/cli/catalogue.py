"""``preflint catalogue``: every rule in a line, a topic in full, the manual page of one, or a site of all pages."""

from pathlib import Path
from typing import TYPE_CHECKING

import click
from click.shell_completion import CompletionItem

if TYPE_CHECKING:
    from preflint.engine.rule_module import Registry


def _names(_context: click.Context, _parameter: click.Parameter, start: str) -> list[CompletionItem]:
    from preflint.engine.rule_module import builtin_and

    rules = [rule.info for rule in builtin_and(()).rules]
    every = dict.fromkeys(name for rule in rules for name in (rule.topic, rule.id))
    return [CompletionItem(name) for name in every if name.startswith(start)]


@click.command()
@click.argument("name", required=False, metavar="[TOPIC | RULE]", shell_complete=_names)
@click.option(
    "--rules", multiple=True, metavar="MODULE", help="Also list the rules of this installed module."
)
@click.option(
    "--html", type=click.Path(path_type=Path), metavar="FOLDER",
    help="Write all pages into FOLDER instead, for a browser; begin with its index.html.",
)  # fmt: skip
@click.option(
    "--policy", type=click.Path(path_type=Path), metavar="FILE",
    help="With the rules of this club policy instead of those of the preflint.yaml of the current folder or above.",
)  # fmt: skip
def catalogue(name: str | None, rules: tuple[str, ...], html: Path | None, policy: Path | None) -> None:
    """List every rule, tell more of a TOPIC, or print the manual page of a RULE."""
    from preflint.cli.output import write
    from preflint.cli.terminal import width
    from preflint.engine.rule_module import builtin_and
    from preflint.errors import UsageError
    from preflint.load.quoting import shorten
    from preflint.render.catalogue import all_rules, told

    if html is not None and name is not None:
        raise UsageError(f"--html writes the pages of all rules; leave {shorten(name)} out")
    registry = _with_club(builtin_and(rules), policy)
    if html is not None:
        _site(registry, html)
    else:
        write(all_rules(registry, width()) if name is None else told(registry, name, width()), None)


def _site(registry: "Registry", folder: Path) -> None:
    from preflint.load.quoting import show
    from preflint.render.folder import write_folder
    from preflint.render.site.pages import site
    from preflint.version import __version__

    pages = site(registry, f"preflint {__version__}")
    write_folder(pages, folder)
    click.echo(f"{len(pages)} pages are written; open {show(str(folder / 'index.html'))} in a browser.", err=True)


def _with_club(registry: "Registry", named: Path | None) -> "Registry":
    """The rules with the club's own, and as it needs them for flight. Raises UsageError where the policy is wrong."""
    from preflint.load.tree import Tree
    from preflint.policy.policy import make_policy
    from preflint.policy.source import named_policy, read_policy

    source = named_policy(named) if named else read_policy(Tree.of_folder(Path.cwd().resolve(), "."))
    return make_policy(source, registry).in_force(registry, source.document) if source else registry
