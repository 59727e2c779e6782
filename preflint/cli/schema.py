"""``preflint schema``: the JSON Schemas, for editors and for programs that read reports."""

import click


@click.command()
@click.argument("of", default="airframe", type=click.Choice(["airframe", "policy", "report"]))
def schema(of: str) -> None:
    """Print a JSON Schema: of the airframe manifest, of a club's policy, or of the JSON report.

    Editors that know JSON Schema use it to complete and to explain every entry.
    """
    import json

    import preflint_schemas

    from preflint.cli.output import write

    kept = {
        "airframe": preflint_schemas.airframe,
        "policy": preflint_schemas.policy,
        "report": preflint_schemas.report,
    }
    write(json.dumps(kept[of](), indent=2, ensure_ascii=False) + "\n", None)
