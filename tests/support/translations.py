"""Collects every text that is shown to people into ``assets/translations/halfshade.ts``, from which translators start.

``python -m tests.support.translations`` writes the file again. The texts are read from the source by ``ast``:

- ``say(...)``, ``say_count(...)`` and ``template(...)``, and the plain literals of errors, findings, progress and help of
  options: context "Words";
- ``self.tr(...)``: the class; ``QCoreApplication.translate(context, ...)``, ``QT_TRANSLATE_NOOP(context, ...)``;
- a module's helper ``def _tr(text): return QCoreApplication.translate("Context", text)``: its context.
"""

from __future__ import annotations

import ast
import string
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from xml.etree import ElementTree

ROOT = Path(__file__).resolve().parent.parent.parent
FILE = ROOT / "assets" / "translations" / "halfshade.ts"
WORDS = "Words"

# What is given to people as it stands: callee -> the positions and keywords of its words.
OURS = {
    "Finding": ((2, 3), ("rule", "evidence")),
    "Evidence": ((5,), ("words",)),
    "report": ((1,), ("words",)),
    "show": ((1,), ("words",)),
    "_Band": ((0,), ("words",)),
    "share_out": ((4,), ("words",)),
    "_refuse_unless": ((1,), ("what",)),
    "_check_curve": ((0,), ("what",)),
    "add_argument": ((), ("help",)),
    "add_parser": ((), ("help", "description")),
}
ERROR = ((0, 1, 2), ("what", "where", "do"))
BUGS = (
    "TypeError",
    "ValueError",
    "KeyError",
    "IndexError",
    "RuntimeError",
    "AssertionError",
    "OSError",
    "EOFError",
    "ImportError",
)
SKIPPED = ("engine/dose/kernel_factory",)


@dataclass
class Text:
    """A source text of one context; `one` is its English singular where number plays a part."""

    context: str
    source: str
    one: str = ""
    places: set[str] = field(default_factory=set)


@dataclass
class Found:
    """What the source holds: texts by (context, source), and calls whose text cannot be read there."""

    texts: dict[tuple[str, str], Text] = field(default_factory=dict)
    unreadable: list[str] = field(default_factory=list)

    def add(self, context: str, source: str, place: str, one: str = "") -> None:
        """Keep a text that holds a letter."""
        if any(c.isalpha() for c in bare(source)):
            self.texts.setdefault((context, source), Text(context, source, one)).places.add(place)


def bare(template: str) -> str:
    """Return a template without its fields."""
    try:
        return "".join(text for text, *_ in string.Formatter().parse(template))
    except ValueError:
        return template


def sources() -> Iterator[tuple[str, ast.Module]]:
    """Yield (path from the root, tree) of every module of the program."""
    for area in ("engine", "app"):
        for path in sorted((ROOT / area).rglob("*.py")):
            name = path.relative_to(ROOT).as_posix()
            if not name.startswith(SKIPPED):
                yield name, _parsed(path, name)


@cache
def _parsed(path: Path, name: str) -> ast.Module:
    return ast.parse(path.read_text(encoding="utf-8"), name)


def callee(node: ast.Call) -> str:
    """Return the last name of what is called."""
    return node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "")


def literal(node: ast.expr | None) -> str | None:
    """Return the text of a string literal, or None."""
    return node.value if isinstance(node, ast.Constant) and isinstance(node.value, str) else None


def words_of(node: ast.Call) -> list[ast.expr]:
    """Return the arguments of a call that are words for people."""
    name = callee(node)
    if name in BUGS or not (name in OURS or name.endswith("Error") or name == "EmptyVolume"):
        return []
    places, names = OURS.get(name, ERROR)
    return [node.args[i] for i in places if i < len(node.args)] + [k.value for k in node.keywords if k.arg in names]


def alternatives(node: ast.expr) -> Iterator[ast.expr]:
    """Yield the expressions one of which is the value (``a if x else b``, ``a or b``)."""
    if isinstance(node, ast.IfExp):
        yield from (*alternatives(node.body), *alternatives(node.orelse))
    elif isinstance(node, ast.BoolOp):
        for value in node.values:
            yield from alternatives(value)
    else:
        yield node


def helpers(trees: dict[str, ast.Module]) -> dict[tuple[str, str], str]:
    """Return (module path, name) -> context of functions that only translate their argument, imported ones too."""
    found = {}
    for path, tree in trees.items():
        for node in tree.body:
            last = node.body[-1] if isinstance(node, ast.FunctionDef) and len(node.args.args) == 1 else None
            call = last.value if isinstance(last, ast.Return) else None
            if isinstance(node, ast.FunctionDef) and isinstance(call, ast.Call) and callee(call) == "translate":
                context = literal(call.args[0])
                if context and isinstance(call.args[1], ast.Name) and call.args[1].id == node.args.args[0].arg:
                    found[path, node.name] = context
    for path, tree in trees.items():
        for node in ast.walk(tree):
            if isinstance(node, ast.ImportFrom) and node.module:
                origin = node.module.replace(".", "/") + ".py"
                found |= {
                    (path, a.asname or a.name): found[origin, a.name] for a in node.names if (origin, a.name) in found
                }
    return found


@cache
def collect() -> Found:
    """Return every text of the program; read once."""
    trees = dict(sources())
    known, out = helpers(trees), Found()
    for path, tree in trees.items():
        _Reader(path, {name: c for (p, name), c in known.items() if p == path}, out).visit(tree)
    return out


class _Reader(ast.NodeVisitor):
    def __init__(self, path: str, helpers_here: dict[str, str], out: Found) -> None:
        self.path, self.helpers, self.out = path, helpers_here, out
        self.classes: list[str] = []
        self.marks = False  # whether the module keeps templates in a table

    def visit_Module(self, node: ast.Module) -> None:
        self.marks = any(isinstance(n, ast.Call) and callee(n) == "template" for n in ast.walk(node))
        self.generic_visit(node)

    def visit_ClassDef(self, node: ast.ClassDef) -> None:
        self.classes.append(node.name)
        self.generic_visit(node)
        self.classes.pop()

    def visit_FunctionDef(self, node: ast.FunctionDef) -> None:
        if node.name not in self.helpers:
            self.generic_visit(node)

    def visit_Call(self, node: ast.Call) -> None:
        self.generic_visit(node)
        name = callee(node)
        if name in ("say", "say_count"):
            texts = [literal(a) for a in node.args[: 2 if name == "say_count" else 1]]
            if None in texts or not texts:
                if not self.marks:
                    self._unreadable(node)
            else:
                self.out.add(WORDS, str(texts[-1]), self.path, str(texts[0]) if len(texts) > 1 else "")
            return
        if name == "template" and node.args:
            self._keep(WORDS, literal(node.args[0]))
        for word in words_of(node):
            for one in alternatives(word):
                self._keep(WORDS, literal(one))
        if name in ("QT_TRANSLATE_NOOP", "translate") or (name == "tr" and len(node.args) >= 2):
            if len(node.args) >= 2 and (context := literal(node.args[0])) is not None:
                if literal(node.args[1]) is None and not isinstance(node.args[1], (ast.Name, ast.Attribute)):
                    self._unreadable(node)
                self._keep(context, literal(node.args[1]))
        elif name == "tr" and node.args:
            found = [literal(a) for a in alternatives(node.args[0])]
            if None in found or not self.classes:
                self._unreadable(node)
            for text in found:
                self._keep(self.classes[-1] if self.classes else "", text)
        elif isinstance(node.func, ast.Name) and name in self.helpers and node.args:
            for one in alternatives(node.args[0]):
                self._keep(self.helpers[name], literal(one))

    def _keep(self, context: str, text: str | None) -> None:
        if text:
            self.out.add(context, text, self.path)

    def _unreadable(self, node: ast.Call) -> None:
        self.out.unreadable.append(f"{self.path}:{node.lineno}: {ast.unparse(node)[:90]}")


def document(found: Found) -> str:
    """Return the translation source file: sorted by context, without line numbers so that it changes with texts only."""
    root = ElementTree.Element("TS", version="2.1", sourcelanguage="en")
    for context in sorted({t.context for t in found.texts.values()}):
        holder = ElementTree.SubElement(root, "context")
        ElementTree.SubElement(holder, "name").text = context
        for text in sorted((t for t in found.texts.values() if t.context == context), key=lambda t: t.source):
            message = ElementTree.SubElement(holder, "message", {"numerus": "yes"} if text.one else {})
            for place in sorted(text.places):
                ElementTree.SubElement(message, "location", filename=f"../../{place}")
            ElementTree.SubElement(message, "source").text = text.source
            if text.one:
                ElementTree.SubElement(message, "extracomment").text = f"Of one: {text.one}"
            translation = ElementTree.SubElement(message, "translation", type="unfinished")
            if text.one:
                ElementTree.SubElement(translation, "numerusform").text = ""
    ElementTree.indent(root)
    head = '<?xml version="1.0" encoding="utf-8"?>\n<!DOCTYPE TS>\n'
    return head + ElementTree.tostring(root, encoding="unicode") + "\n"


if __name__ == "__main__":
    FILE.parent.mkdir(exist_ok=True)
    FILE.write_text(document(collect()), encoding="utf-8")
    print(f"Wrote {FILE.relative_to(ROOT)}: {len(collect().texts)} texts.")
