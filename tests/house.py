"""The rules of the house, read off the source without importing it: sizes of classes and functions, and nothing dead.

Dead is what neither the workbook's pages and notebooks, the command, the starter nor the front door reaches. A name is
followed through imports; an attribute reaches every method of that name in a reached class, a string that is a name
reaches whatever is called so, and so does a word in a template: doubt counts as reached.
"""

import ast
import json
import re
import sys
from collections.abc import Iterable, Iterator, Mapping
from fnmatch import fnmatchcase as fnmatch
from pathlib import Path
from typing import NamedTuple

ROOT = Path(__file__).resolve().parent.parent
PACKAGE = "gardenkit"
CLASS_LINES, BODY_LINES = 250, 50  # House values.
DOORS = ("gardenkit", "gardenkit.start", "gardenkit.notebook.command", "gardenkit.notebook.workbook", "gardenkit.front")
DOORS += ("gardenkit.project.edits",)  # scripts call them through gk.edit, remedies by their names
OPEN = ("gardenkit.front", "gardenkit.project.edits")  # with all that is in them
ALLOWED: Mapping[str, str] = {  # dead by the rules, kept all the same, and why
    "gardenkit.site.sun.sun_hours": "one call of what the sun map does in steps; tests and benchmarks time it",
}
Definition = ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef
Function = ast.FunctionDef | ast.AsyncFunctionDef
# Decorators that only wrap what stands below them; any other may enter it somewhere, so it lives with its module.
PLAIN = {"property", "cached_property", "staticmethod", "classmethod", "lru_cache", "cache", "handler", "frozen"}
PLAIN |= {"njit", "define", "contextmanager", "overload", "wraps", "total_ordering", "dataclass"}


class Unit(NamedTuple):
    """Something that has a name in a module, or in a class of it: ``gardenkit.units.length``, ``...Board.renew``."""

    module: str
    name: str
    nodes: tuple[ast.AST, ...]
    line: int
    kept: bool  # lives as soon as its module (or class) does

    @property
    def path(self) -> str:
        """The dotted name."""
        return f"{self.module}.{self.name}"


def modules(root: Path = ROOT, package: str = PACKAGE) -> dict[str, ast.Module]:
    """Return every module of the package by its dotted name."""
    found = {}
    for path in sorted((root / package).rglob("*.py")):
        parts = path.relative_to(root).with_suffix("").parts
        found[".".join(parts[:-1] if parts[-1] == "__init__" else parts)] = ast.parse(path.read_text(encoding="utf-8"))
    return found


# ---- sizes


def too_large(trees: Mapping[str, ast.Module]) -> Iterator[str]:
    """Say which classes and function bodies are over the limits; a docstring is not counted."""
    for module, tree in trees.items():
        for node in ast.walk(tree):
            if isinstance(node, ast.ClassDef) and (lines := _span([node])) > CLASS_LINES:
                yield f"{module}:{node.lineno} class {node.name} has {lines} lines, over {CLASS_LINES}"
            if isinstance(node, Function) and (lines := _span(_body(node))) > BODY_LINES:
                yield f"{module}:{node.lineno} the body of {node.name} has {lines} lines, over {BODY_LINES}"


def unformatted(root: Path = ROOT) -> Iterator[str]:
    """Say where the formatter is told to keep off."""
    for path in sorted(p for part in (PACKAGE, "tests") for p in (root / part).rglob("*.py")):
        for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), 1):
            if re.search(r"#\s*fmt:\s*(skip|off)", line):
                yield f"{path.relative_to(root)}:{number} keeps the formatter off"


# ---- what is reached


def dead(trees: Mapping[str, ast.Module], outside: Iterable[str], doors: Iterable[str] = DOORS) -> list[str]:
    """Return the dotted names of everything that nothing reaches; ``outside``: words of notebooks and templates."""
    walk = _Walk(trees)
    for module in trees:
        if any(module == door or (door in OPEN and module.startswith(f"{door}.")) for door in doors):
            walk.enter(module)
            for unit in walk.units_of[module]:
                if "." not in unit.name:
                    walk.reach(unit)
    for word in outside:
        walk.word(word)
    walk.run()
    return sorted(
        f"{unit.path} (line {unit.line})"
        for unit in walk.units.values()
        if unit.path not in walk.reached and not _owner_dead(unit, walk)
    )


class _Walk:
    """Follows names from the doors inward."""

    def __init__(self, trees: Mapping[str, ast.Module]) -> None:
        self.trees = trees
        self.units_of = {module: tuple(_units(module, tree)) for module, tree in trees.items()}
        self.units = {unit.path: unit for units in self.units_of.values() for unit in units}
        self.named: dict[str, list[Unit]] = {}
        for unit in self.units.values():
            self.named.setdefault(unit.name.rsplit(".", 1)[-1], []).append(unit)
        self.imports = {module: dict(_imports(module, tree, trees)) for module, tree in trees.items()}
        self.reached: set[str] = set()
        self.entered: set[str] = set()
        self.attributes: set[str] = set()  # every attribute name that reached code mentions
        self.left: list[Unit] = []

    def run(self) -> None:
        """Follow all that was reached until nothing new turns up."""
        while self.left:
            unit = self.left.pop()
            for node in unit.nodes:
                self._read(unit.module, node)

    def reach(self, unit: Unit) -> None:
        """Count a unit as reached, and with its class what the class must have."""
        if unit.path in self.reached:
            return
        self.reached.add(unit.path)
        self.left.append(unit)
        self.enter(unit.module)
        for member in self.units_of[unit.module]:
            if member.name.startswith(f"{unit.name}.") and (member.kept or self._tail(member) in self.attributes):
                self.reach(member)

    def enter(self, module: str) -> None:
        """Count a module as imported: what stands in it outside of definitions runs."""
        if module in self.entered:
            return
        self.entered.add(module)
        for unit in self.units_of[module]:
            if unit.kept and "." not in unit.name:
                self.reach(unit)

    def word(self, word: str) -> None:
        """Reach whatever is called so, in any module and class."""
        for part in word.split("."):
            self._attribute(part)
            for unit in self.named.get(part, ()):
                if "." not in unit.name:
                    self.reach(unit)

    def _read(self, module: str, top: ast.AST) -> None:
        for node in _nodes(top):
            if isinstance(node, ast.Attribute):
                target = self._resolve(module, _dotted(node))
                if target is None:
                    self._attribute(node.attr)
            elif isinstance(node, ast.Name):
                self._resolve(module, node.id)
            elif isinstance(node, (ast.Import, ast.ImportFrom)):
                for name, _ in _imported(module, node, self.trees):
                    self.enter(name) if name in self.trees else None
            elif isinstance(node, ast.Constant) and isinstance(node.value, str):
                if re.fullmatch(r"[A-Za-z_][\w.]*", node.value):
                    self.word(node.value)
            elif isinstance(node, ast.keyword) and node.arg:
                self._attribute(node.arg)

    def _attribute(self, name: str) -> None:
        if name in self.attributes:
            return
        self.attributes.add(name)
        for unit in self.named.get(name, ()):
            owner = unit.name.rpartition(".")[0]
            if owner and f"{unit.module}.{owner}" in self.reached:
                self.reach(unit)

    def _resolve(self, module: str, dotted: str) -> Unit | None:
        """Reach what a dotted name means in a module, through imports and what a package hands on."""
        head, _, rest = dotted.partition(".")
        if f"{module}.{head}" in self.units:
            self.reach(self.units[f"{module}.{head}"])
            return None
        target = self.imports[module].get(head)
        if not target:
            return None
        return self._follow(f"{target}.{rest}" if rest else target)

    def _follow(self, dotted: str, depth: int = 0) -> Unit | None:
        parts = dotted.split(".")
        for cut in range(len(parts), 0, -1):
            module = ".".join(parts[:cut])
            if module not in self.trees:
                continue
            self.enter(module)
            if cut == len(parts):
                return None
            unit = self.units.get(f"{module}.{parts[cut]}")
            if unit is not None:
                self.reach(unit)
                return unit if cut + 1 == len(parts) else None
            handed = self.imports[module].get(parts[cut])
            if handed and depth < 9:
                return self._follow(".".join((handed, *parts[cut + 1 :])), depth + 1)
            return None
        return None

    @staticmethod
    def _tail(unit: Unit) -> str:
        return unit.name.rsplit(".", 1)[-1]


# ---- helpers


def _owner_dead(unit: Unit, walk: _Walk) -> bool:
    owner = unit.name.rpartition(".")[0]
    return bool(owner) and f"{unit.module}.{owner}" not in walk.reached


def _units(module: str, tree: ast.Module) -> Iterator[Unit]:
    loose: list[ast.AST] = []
    for node in tree.body:
        if isinstance(node, Function):
            yield Unit(module, node.name, (node,), node.lineno, _registers(node))
        elif isinstance(node, ast.ClassDef):
            yield from _class_units(module, node)
        elif isinstance(node, (ast.Assign, ast.AnnAssign)):
            targets = node.targets if isinstance(node, ast.Assign) else [node.target]
            for name in (n.id for t in targets for n in ast.walk(t) if isinstance(n, ast.Name)):
                yield Unit(module, name, (node,), node.lineno, name.startswith("__"))
        elif not isinstance(node, (ast.Import, ast.ImportFrom)):
            loose.append(node)
    if any(not isinstance(node, ast.Expr) for node in loose):
        yield Unit(module, "<module>", tuple(loose), 1, True)


def _class_units(module: str, node: ast.ClassDef) -> Iterator[Unit]:
    methods = [n for n in node.body if isinstance(n, Function)]
    rest: list[ast.AST] = [*node.bases, *node.keywords, *node.decorator_list]
    rest += [n for n in node.body if not isinstance(n, Function)]
    yield Unit(module, node.name, tuple(rest), node.lineno, _registers(node))
    for method in methods:
        kept = method.name.startswith(("__", "_repr_")) or _registers(method)
        yield Unit(module, f"{node.name}.{method.name}", (method,), method.lineno, kept)


def _registers(node: Definition) -> bool:
    for decorator in node.decorator_list:
        called = decorator.func if isinstance(decorator, ast.Call) else decorator
        if _dotted(called).rsplit(".", 1)[-1] not in PLAIN:
            return True
    return False


def _nodes(top: ast.AST) -> Iterator[ast.AST]:
    """Walk everything but docstrings."""
    documented = (ast.FunctionDef, ast.AsyncFunctionDef, ast.ClassDef, ast.Module)
    left: list[ast.AST] = [top]
    while left:
        node = left.pop()
        yield node
        children = list(ast.iter_child_nodes(node))
        if isinstance(node, documented) and ast.get_docstring(node, clean=False) is not None:
            children.remove(node.body[0])
        if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant):
            children = []
        left.extend(children)


def _imports(module: str, tree: ast.Module, trees: Mapping[str, ast.Module]) -> Iterator[tuple[str, str]]:
    for node in ast.walk(tree):
        if isinstance(node, (ast.Import, ast.ImportFrom)):
            for target, alias in _imported(module, node, trees):
                yield alias, target


def _imported(
    module: str, node: ast.Import | ast.ImportFrom, trees: Mapping[str, ast.Module]
) -> Iterator[tuple[str, str]]:
    """Yield what an import names in full, and what it is called here."""
    package = module.split(".", maxsplit=1)[0]
    if isinstance(node, ast.ImportFrom):
        if node.module and node.module.split(".")[0] == package:
            yield from ((f"{node.module}.{a.name}", a.asname or a.name) for a in node.names)
        return
    for alias in node.names:
        if alias.name.split(".")[0] == package:
            yield (alias.name, alias.asname) if alias.asname else (package, package)


def _dotted(node: ast.AST) -> str:
    if isinstance(node, ast.Attribute):
        before = _dotted(node.value)
        return f"{before}.{node.attr}" if before else ""
    return node.id if isinstance(node, ast.Name) else ""


def _body(node: Function) -> list[ast.stmt]:
    return node.body[1:] if ast.get_docstring(node) is not None else node.body


def _span(nodes: list[ast.stmt]) -> int:
    return (nodes[-1].end_lineno or 0) - nodes[0].lineno + 1 if nodes else 0


def outside_words(root: Path = ROOT) -> Iterator[str]:
    """Yield the identifiers of the notebooks' cells and of the templates."""
    texts = [p.read_text(encoding="utf-8") for p in sorted((root / PACKAGE).rglob("*.html"))]
    for path in sorted((root / "workbook").glob("*.ipynb")):
        cells = json.loads(path.read_text(encoding="utf-8"))["cells"]
        texts += ["".join(cell["source"]) for cell in cells if cell["cell_type"] == "code"]
    yield from sorted({word for text in texts for word in re.findall(r"[A-Za-z_]\w*", text)})


def main() -> int:
    """Say every rule that is broken; returns how the check ends."""
    trees = modules()
    found = [*too_large(trees), *unformatted()]
    gone = [name.split(" ")[0] for name in dead(trees, outside_words())]
    found += [f"{name} is reached from nowhere" for name in gone if not any(fnmatch(name, kept) for kept in ALLOWED)]
    stale = [kept for kept in ALLOWED if not any(fnmatch(name, kept) for name in gone)]
    notes = [f"note: take {kept} off the list of what is kept; it is reached, or gone" for kept in stale]
    sys.stdout.write("\n".join([*found, *notes, f"{len(found)} against the rules of the house", ""]))
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main())
