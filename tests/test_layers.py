"""Rules about the code itself: layers, sizes, clocks, weight at start-up."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
BENCH = ROOT / "bench"

LAYERS: tuple[frozenset[str], ...] = (
    frozenset({"errors"}),
    frozenset({"units"}),
    frozenset({"physics", "colour"}),
    frozenset({"model"}),
    frozenset({"plan"}),
    frozenset({"session"}),
    frozenset({"clock"}),
    frozenset({"signals", "store"}),
    frozenset({"tui", "cli"}),
    frozenset({"__main__"}),
)
"""From the bottom up. A layer imports only from those below it and from itself."""

FORBIDDEN = {
    "physics": {"pint", "cattrs", "textual", "tomllib", "tomli_w", "datetime", "time", "bench.units"},
    "colour": {"pint", "cattrs", "textual", "tomllib", "tomli_w", "datetime", "time", "bench.units"},
    "model": {"pint", "cattrs", "textual", "tomllib", "tomli_w", "time"},
    "plan": {"pint", "cattrs", "textual", "tomllib", "tomli_w", "time"},
    "session": {"pint", "cattrs", "textual", "tomllib", "tomli_w", "time"},
    "store": {"textual"},
    "signals": {"textual", "pint", "cattrs"},
    "cli": {"tomllib", "tomli_w", "cattrs"},
    "tui": {"tomllib", "tomli_w", "cattrs", "pint"},
}
"""What must not be imported, anywhere in the file, by the modules of a layer."""

MODULES = sorted(path for path in BENCH.rglob("*.py") if path != BENCH / "__init__.py")
LONGEST_MODULE = 400
LONGEST_CLASS = 200
LONGEST_FUNCTION = 50


def layer_of(path: Path) -> str:
    """The layer that a file of the package belongs to."""
    first = path.relative_to(BENCH).parts[0]
    return first.removesuffix(".py")


def height(layer: str) -> int:
    """How high the layer stands; StopIteration for one that the table does not know."""
    return next(place for place, names in enumerate(LAYERS) if layer in names)


def imports(tree: ast.AST) -> Iterator[str]:
    """Every module named in an import, those inside functions too."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, "imports are absolute, so that a reader sees the layer"
            module = node.module or ""
            yield module
            yield from (f"{module}.{alias.name}" for alias in node.names)


def parsed(path: Path) -> ast.Module:
    """The file's syntax tree."""
    return ast.parse(path.read_text(encoding="utf-8"))


@pytest.mark.parametrize("path", MODULES, ids=lambda path: str(path.relative_to(ROOT)))
def test_imports_only_point_downwards(path: Path) -> None:
    own = layer_of(path)
    for name in imports(parsed(path)):
        if not name.startswith("bench."):
            continue
        other = name.split(".")[1]
        if other == own:
            continue
        assert height(other) < height(own), f"{path.relative_to(ROOT)} imports upwards: {name}"


@pytest.mark.parametrize("path", MODULES, ids=lambda path: str(path.relative_to(ROOT)))
def test_layers_keep_their_hands_off_what_is_not_theirs(path: Path) -> None:
    forbidden = FORBIDDEN.get(layer_of(path), set())
    found = {
        name for name in imports(parsed(path)) for bad in forbidden if name == bad or name.startswith(bad + ".")
    }
    assert not found, f"{path.relative_to(ROOT)} imports {sorted(found)}"


def test_every_layer_of_the_package_is_in_the_table() -> None:
    assert {layer_of(path) for path in MODULES} <= set().union(*LAYERS)


@pytest.mark.parametrize("path", MODULES, ids=lambda path: str(path.relative_to(ROOT)))
def test_nothing_outgrows_a_reader(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    assert text.count("\n") <= LONGEST_MODULE, f"{path.name} is too long to understand at one sitting"
    for node in ast.walk(ast.parse(text)):
        if not isinstance(node, ast.ClassDef | ast.FunctionDef | ast.AsyncFunctionDef):
            continue
        length = (node.end_lineno or node.lineno) - node.lineno + 1
        limit = LONGEST_CLASS if isinstance(node, ast.ClassDef) else LONGEST_FUNCTION
        assert length <= limit, f"{path.name}: {node.name} has {length} lines"


CLOCK_CALLS = {"now", "today", "utcnow", "monotonic", "perf_counter", "clock_gettime", "time"}
CLOCK_OWNERS = {"datetime", "date", "time"}
MAY_READ_A_CLOCK = {"clock.py"}


@pytest.mark.parametrize(
    "path",
    [path for path in MODULES if str(path.relative_to(BENCH)) not in MAY_READ_A_CLOCK],
    ids=lambda path: str(path.relative_to(ROOT)),
)
def test_only_the_edge_reads_a_clock(path: Path) -> None:
    for node in ast.walk(parsed(path)):
        if not (isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute)):
            continue
        owner = node.func.value
        if isinstance(owner, ast.Name) and owner.id in CLOCK_OWNERS and node.func.attr in CLOCK_CALLS:
            pytest.fail(f"{path.relative_to(ROOT)}:{node.lineno} reads a clock")


@pytest.mark.parametrize("path", MODULES, ids=lambda path: str(path.relative_to(ROOT)))
def test_no_error_is_swallowed_wholesale(path: Path) -> None:
    """A broad except either raises again what it caught, or stands where the program turns a defect into words."""
    for node in ast.walk(parsed(path)):
        if isinstance(node, ast.ExceptHandler):
            name = ast.unparse(node.type) if node.type else "nothing"
            broad = name in {"Exception", "BaseException", "nothing"}
            raises_again = isinstance(node.body[-1], ast.Raise) and node.body[-1].exc is None
            allowed = not broad or raises_again or path.name == "__main__.py"
            assert allowed, f"{path.relative_to(ROOT)}:{node.lineno} catches {name}"
