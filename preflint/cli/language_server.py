"""``preflint language-server``: judges, explains and completes a manifest while it is typed in an editor."""

import click

from preflint.errors import UsageError


@click.command("language-server")
@click.option("--rules", multiple=True, metavar="MODULE", help="Also run the rules of this installed module.")
def language_server(rules: tuple[str, ...]) -> None:
    """Serve an editor that speaks the Language Server Protocol.

    The editor starts this by itself; it talks over standard input and output.
    Needs the extra: pip install "preflint[editor]"
    """
    import importlib.util

    if importlib.util.find_spec("pygls") is None:
        raise UsageError('language-server needs one more package: pip install "preflint[editor]"')
    from preflint.editor.server import serve

    serve(rules)
