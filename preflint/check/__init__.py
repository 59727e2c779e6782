"""Documents against the schema and against what a schema cannot say, with every problem in plain words."""

from preflint.check.manifest import check_manifest, check_part

__all__ = ["check_manifest", "check_part"]
