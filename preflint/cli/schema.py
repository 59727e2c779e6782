"""``preflint schema``: the manifest's JSON Schema, for editors."""

import json

import click


@click.command(short_help="Print the schema of the manifest, for editors.")
def schema() -> None:
    """Print the JSON Schema of the manifest.

    Editors that know JSON Schema use it to complete and to explain every entry.
    """
    import preflint_schemas

    from preflint.cli.output import write

    write(json.dumps(preflint_schemas.airframe(), indent=2, ensure_ascii=False) + "\n", None)
