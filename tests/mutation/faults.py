"""The faults that are put into the project's own code, one at a time: each a small change of a syntax tree."""

import ast
from collections.abc import Callable, Iterator
from dataclasses import dataclass

COMPARISONS: dict[type[ast.cmpop], tuple[type[ast.cmpop], ...]] = {
    ast.Lt: (ast.LtE, ast.Gt),
    ast.LtE: (ast.Lt, ast.GtE),
    ast.Gt: (ast.GtE, ast.Lt),
    ast.GtE: (ast.Gt, ast.LtE),
    ast.Eq: (ast.NotEq,),
    ast.NotEq: (ast.Eq,),
    ast.In: (ast.NotIn,),
    ast.NotIn: (ast.In,),
    ast.Is: (ast.IsNot,),
    ast.IsNot: (ast.Is,),
}
ARITHMETIC: dict[type[ast.operator], type[ast.operator]] = {
    ast.Add: ast.Sub,
    ast.Sub: ast.Add,
    ast.Mult: ast.Div,
    ast.Div: ast.Mult,
    ast.Pow: ast.Mult,
}
PAIRS = (
    ("min", "max"), ("minimum", "maximum"), ("all", "any"), ("sin", "cos"), ("degrees", "radians"),
    ("deg2rad", "rad2deg"), ("floor", "ceil"), ("argmin", "argmax"), ("hstack", "vstack"),
)  # fmt: skip
FUNCTIONS = {**dict(PAIRS), **{second: first for first, second in PAIRS}}
DROPPED = ("abs", "sqrt", "square", "sorted", "fabs")  # f(x) becomes x
OPPOSITES = (("cw", "ccw"), ("left", "right"), ("front", "rear"), ("higher", "lower"), ("up", "down"))
WORDS = {**dict(OPPOSITES), **{second: first for first, second in OPPOSITES}}
# Keywords of calls that change nothing a test should notice.
QUIET = {"slots", "frozen", "eq", "order", "kw_only", "strict", "repr", "maxsize", "encoding"}
# Their two arguments are of different types, so exchanging them crashes at once.
UNLIKE = {"isinstance", "getattr", "setattr", "range", "Tolerance", "field", "round", "replace", "cast", "TypeVar"}

Change = Callable[[], None]


@dataclass(frozen=True, slots=True)
class Fault:
    """Fault number ``variant`` of node ``index`` in the order of ``sites``; ``was`` and ``now`` tell it in Python."""

    path: str
    index: int
    variant: int
    line: int
    was: str
    now: str


def numbers_of(source: str) -> list[tuple[int, int]]:
    """Index and variant of every fault that can be put into a module."""
    return [(at, variant) for at, node in enumerate(sites(ast.parse(source))) for variant in range(len(changes(node)))]


def fault_of(path: str, source: str, index: int, variant: int) -> Fault:
    """One of them, in words."""
    node = sites(ast.parse(source))[index]
    _, changed = with_fault(source, index, variant)
    return Fault(path, index, variant, node.lineno, ast.unparse(node), ast.unparse(changed))


def with_fault(source: str, index: int, variant: int) -> tuple[ast.Module, ast.expr | ast.stmt]:
    """The tree of a module with one fault, and the node that bears it."""
    tree = ast.parse(source)
    node = sites(tree)[index]
    changes(node)[variant]()
    return ast.fix_missing_locations(tree), node


def sites(tree: ast.Module) -> list[ast.expr | ast.stmt]:
    """The nodes that say what is computed and decided: neither annotations nor docstrings nor imports."""
    return [node for node in _walk(tree) if isinstance(node, ast.expr | ast.stmt)]


def _walk(node: ast.AST) -> Iterator[ast.AST]:
    for name, value in ast.iter_fields(node):
        if name in ("annotation", "returns", "format_spec") or (isinstance(node, ast.keyword) and node.arg in QUIET):
            continue
        for child in value if isinstance(value, list) else [value]:
            if not isinstance(child, ast.AST) or isinstance(child, ast.Import | ast.ImportFrom):
                continue
            if isinstance(child, ast.Expr) and isinstance(child.value, ast.Constant):
                continue
            yield child
            yield from _walk(child)


def changes(node: ast.AST) -> list[Change]:
    """What can be done to a node in its place."""
    match node:
        case ast.Compare(ops=[op]):
            return [_setting(node, "ops", [other()]) for other in COMPARISONS[type(op)]]
        case ast.BinOp(left=left, op=op, right=right):
            text = any(isinstance(side, ast.JoinedStr) or _is_text(side) for side in (left, right))
            return [] if text or type(op) not in ARITHMETIC else [_setting(node, "op", ARITHMETIC[type(op)]())]
        case ast.AugAssign(op=op):
            return [_setting(node, "op", ARITHMETIC[type(op)]())] if type(op) in ARITHMETIC else []
        case ast.BoolOp(op=op):
            return [_setting(node, "op", ast.Or() if isinstance(op, ast.And) else ast.And())]
        case ast.UnaryOp(op=ast.Not(), operand=operand):
            return [_setting(node, "operand", ast.UnaryOp(op=ast.Not(), operand=operand))]
        case ast.UnaryOp(op=ast.USub()):
            return [_setting(node, "op", ast.UAdd())]
        case ast.If(orelse=[], body=[ast.Return() | ast.Raise() | ast.Continue()]):
            return [_setting(node, "test", ast.Constant(value=False))]
        case ast.Constant(value=bool(value)):
            return [_setting(node, "value", not value)]
        case ast.Constant(value=int(value) | float(value)):
            return [_setting(node, "value", value + 1)] + ([_setting(node, "value", value * 2)] if value else [])
        case ast.Constant(value=str(value)):
            return [
                _setting(node, "value", "-".join([*parts[:at], WORDS[part], *parts[at + 1 :]]))
                for parts in [value.split("-")]
                for at, part in enumerate(parts)
                if part in WORDS
            ]
        case ast.Return(value=ast.BinOp() | ast.Compare() | ast.BoolOp() as value):
            negated = ast.Not() if not isinstance(value, ast.BinOp) else ast.USub()
            return [] if _has_text(value) else [_setting(node, "value", ast.UnaryOp(op=negated, operand=value))]
        case ast.Call():
            return _changes_of_call(node)
    return []


def _changes_of_call(node: ast.Call) -> list[Change]:
    """Another function, none, or its first two arguments exchanged."""
    name = node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "")
    field = "attr" if isinstance(node.func, ast.Attribute) else "id"
    found = [_setting(node.func, field, FUNCTIONS[name])] if name in FUNCTIONS else []
    if name in DROPPED and len(node.args) == 1 and not node.keywords:
        found.append(_handing_on(node))
    starred = any(isinstance(arg, ast.Starred) for arg in node.args)
    if len(node.args) >= 2 and name not in UNLIKE and name not in FUNCTIONS and name != "hypot" and not starred:
        found.append(_setting(node, "args", [node.args[1], node.args[0], *node.args[2:]]))
    return found


def _setting(node: ast.AST, field: str, value: object) -> Change:
    return lambda: setattr(node, field, value)


def _handing_on(call: ast.Call) -> Change:
    """A call in whose place its argument stands, handed on by a function that does nothing."""

    def change() -> None:
        call.func = ast.parse("(lambda x: x)", mode="eval").body

    return change


def _is_text(node: ast.AST) -> bool:
    return isinstance(node, ast.Constant) and isinstance(node.value, str)


def _has_text(node: ast.expr) -> bool:
    return any(isinstance(part, ast.JoinedStr) or _is_text(part) for part in ast.walk(node))
