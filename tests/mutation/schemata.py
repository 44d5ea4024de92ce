"""Finds what can be another operator, constant or condition in C++ sources, and rewrites the sources so that one
program holds all of these mutants, each asleep until its number is called (mutants.hpp).

What is changed, each alone:
  + - * / %  += -= *= /=   into their counterparts, of numbers as of Angle, Vector and the like
  < <= > >=                into the opposite; of whole numbers also by the edge (< into <=)
  == !=  && ||  !  -x      into the opposite; && and || without their left or right side
  if (...)  ... ? :        always, never
  constants                n + 1; floating x into 2x + 1; true and false into each other; also a named constant where used
  a statement              left out: an assignment or a call, where it stands in a block
Not made: < into <= between floating numbers, which differ only where both are equal; ++ and --, which mostly
make endless loops; what is evaluated by the compiler (constexpr values, sizes, cases); reserve(), which asks for
memory sooner and is not seen in any answer.
"""

import bisect
import os
import re
from dataclasses import dataclass, field

from clang import cindex
from clang.cindex import CursorKind as K
from clang.cindex import TypeKind as T

SWAPPED = {
    "+": "plus", "-": "minus", "*": "times", "/": "by", "%": "rest",
    "<": "less", ">": "more", "<=": "at_most", ">=": "at_least", "==": "same", "!=": "other",
}
EDGES = {"<": "less_at_edge", ">": "more_at_edge", "<=": "at_most_at_edge", ">=": "at_least_at_edge"}
ASSIGNED = {"+=": "add", "-=": "take", "*=": "multiply", "/=": "divide"}
OTHER = {"+": "-", "-": "+", "*": "/", "/": "*", "%": "*", "<": ">=", ">": "<=", "<=": ">", ">=": "<",
         "==": "!=", "!=": "==", "+=": "-=", "-=": "+=", "*=": "/=", "/=": "*="}
EDGE = {"<": "<=", ">": ">=", "<=": "<", ">=": ">"}
FLOATING = {T.FLOAT, T.DOUBLE, T.LONGDOUBLE}
WHOLE = {T.CHAR_S, T.SCHAR, T.UCHAR, T.SHORT, T.USHORT, T.INT, T.UINT, T.LONG, T.ULONG, T.LONGLONG, T.ULONGLONG}
NO_RUN_TIME = {K.STATIC_ASSERT, K.ENUM_DECL, K.TEMPLATE_NON_TYPE_PARAMETER, K.CONCEPT_DECL, K.TYPE_ALIAS_DECL,
               K.TYPE_ALIAS_TEMPLATE_DECL, K.TYPEDEF_DECL}
FUNCTIONS = {K.FUNCTION_DECL, K.FUNCTION_TEMPLATE, K.CXX_METHOD}
NO_STATEMENTS = {K.UNARY_OPERATOR, K.CSTYLE_CAST_EXPR, K.CXX_THROW_EXPR}


@dataclass
class Mutant:
    file: str          # from the sources' folder
    line: int
    column: int
    change: str        # such as "< into >="
    text: str          # the line
    id: int = -1

    def key(self):
        return f"{self.file}:{self.line}:{self.column}: {self.change}"


@dataclass
class Place:
    """One rewriting: text before and after a range, and a token replaced inside it."""
    begin: int
    end: int
    kind: str
    before: str        # {id} stands for the first mutant's number, {next} for the one after it
    after: str
    changes: list
    token: tuple = None    # (begin, end, text)
    ids: list = field(default_factory=list)


class Source:
    def __init__(self, path, name):
        self.path, self.name = path, name
        self.bytes = open(path, "rb").read()
        self.line_starts = [0] + [i + 1 for i, b in enumerate(self.bytes) if b == 10]
        self.places = {}

    def line_of(self, offset):
        return bisect.bisect_right(self.line_starts, offset)

    def line_text(self, line):
        begin = self.line_starts[line - 1]
        return self.bytes[begin:].split(b"\n", 1)[0].decode().strip()

    def text(self, begin, end):
        return self.bytes[begin:end].decode(errors="replace")


class Finder:
    def __init__(self, folder, sources_root):
        self.root = os.path.realpath(sources_root)
        self.folder = os.path.join(self.root, folder) + os.sep
        self.sources = {}
        self.constexpr = {}
        self.index = cindex.Index.create()

    def source(self, path):
        path = os.path.realpath(path)
        if not path.startswith(self.folder):
            return None
        if path not in self.sources:
            self.sources[path] = Source(path, os.path.relpath(path, self.root))
        return self.sources[path]

    def read(self, path, arguments):
        unit = self.index.parse(path, args=arguments)
        faults = [d for d in unit.diagnostics if d.severity >= cindex.Diagnostic.Error]
        if faults:
            raise SystemExit(f"{path}: {faults[0]}")
        for cursor in unit.cursor.get_children():
            if cursor.location.file and self.source(cursor.location.file.name):
                self.walk(cursor, [])

    # --- what stands where

    def range(self, cursor):
        """(source, begin, end), if all of it is written in one of our files."""
        begin, end = cursor.extent.start, cursor.extent.end
        if begin.file is None or end.file is None or begin.file.name != end.file.name:
            return None
        source = self.source(begin.file.name)
        return (source, begin.offset, end.offset) if source and begin.offset < end.offset else None

    def is_constexpr(self, cursor):
        begin, words = cursor.extent.start, ""
        key = (begin.file.name if begin.file else "", begin.offset, cursor.spelling)    # a hash is not of one cursor alone
        if key not in self.constexpr:
            if begin.file:
                with open(begin.file.name, "rb") as file:
                    words = file.read()[:begin.offset + 100].decode(errors="replace")
                # The second of two names may begin at itself: look back to the statement's beginning.
                at = len(words) - 100
                words = re.sub(r"//[^\n]*", lambda m: " " * len(m[0]), words)
                words = words[max(words.rfind(c, 0, at) for c in ";{}") + 1:]
            self.constexpr[key] = re.match(r"[^;{}(]*\bconst(expr|init)\b", words) is not None
        return self.constexpr[key]

    def walk(self, cursor, parents):
        kind = cursor.kind
        if kind in NO_RUN_TIME:
            return
        if kind == K.VAR_DECL and self.is_constexpr(cursor):
            return
        if self.is_compiled_away(cursor):
            return
        self.look_at(cursor, parents)
        children = list(cursor.get_children())
        if kind == K.CASE_STMT:
            children = children[1:]
        if kind == K.VAR_DECL:
            children = [c for c in children if not self.is_size(c)]
        if kind == K.IF_STMT and self.words(cursor).startswith("if constexpr"):
            children = children[1:]
        parents.append(cursor)
        for child in children:
            self.walk(child, parents)
        parents.pop()

    def is_size(self, cursor):
        """Of an array that is declared."""
        where = self.range(cursor)
        return where is not None and where[0].text(max(0, where[1] - 40), where[1]).rstrip().endswith("[")

    def is_compiled_away(self, cursor):
        """A table's maker: a consteval function, or a constexpr constructor with a body."""
        words = self.words(cursor)
        if cursor.kind == K.CONSTRUCTOR:
            return re.match(r"constexpr [A-Z]\w*\(\) \{\n", words) is not None
        return cursor.kind in FUNCTIONS and re.search(r"\bconsteval\b", words.split("(")[0]) is not None

    def words(self, cursor):
        where = self.range(cursor)
        return where[0].text(where[1], min(where[2], where[1] + 200)) if where else ""

    def put(self, cursor, kind, before, after, changes, token=None):
        source, begin, end = self.range(cursor)
        source.places.setdefault((begin, end, kind), Place(begin, end, kind, before, after, changes, token))

    # --- one look for each kind of mutant

    def look_at(self, cursor, parents):
        if self.range(cursor) is None:
            return
        kind, parent = cursor.kind, parents[-1] if parents else None
        if (kind.is_expression() and kind not in NO_STATEMENTS and parent is not None and parent.kind == K.COMPOUND_STMT
                and not re.match(r"[\w.>-]+\.reserve\(", self.words(cursor))):
            self.put(cursor, "statement", "if (!::keyhour_mutants::on({id})) ", "", ["left out"])
        if kind in (K.IF_STMT, K.CONDITIONAL_OPERATOR):
            self.condition(cursor)
        if kind in (K.BINARY_OPERATOR, K.CALL_EXPR, K.COMPOUND_ASSIGNMENT_OPERATOR):
            self.binary(cursor)
        if kind == K.UNARY_OPERATOR:
            self.unary(cursor)
        if kind in (K.INTEGER_LITERAL, K.FLOATING_LITERAL, K.CXX_BOOL_LITERAL_EXPR):
            self.literal(cursor, parent)
        if kind == K.DECL_REF_EXPR:
            self.named_constant(cursor)

    def condition(self, cursor):
        where = self.range(cursor)
        if cursor.kind == K.IF_STMT and not re.match(r"if \(", self.words(cursor)):
            return
        for child in cursor.get_children():
            if not child.kind.is_expression():
                return
            inner = self.range(child)
            if inner is None or (cursor.kind == K.IF_STMT and inner[1] != where[1] + 4):
                return
            self.put(child, "condition", "::keyhour_mutants::when({id}, (", "))", ["always", "never"])
            return

    def binary(self, cursor):
        sides = [c for c in cursor.get_children() if not (c.spelling or "").startswith("operator")
                 or c.kind != K.UNEXPOSED_EXPR and c.kind != K.DECL_REF_EXPR]
        if len(sides) != 2:
            return
        left, right = self.range(sides[0]), self.range(sides[1])
        here = self.range(cursor)
        if left is None or right is None or left[1] != here[1] or right[2] != here[2] or left[2] > right[1]:
            return
        source = here[0]
        gap = source.text(left[2], right[1])
        operator = gap.strip()
        at = left[2] + len(gap) - len(gap.lstrip())
        token = (at, at + len(operator), "), (")
        if operator in ("&&", "||"):
            leave = "::keyhour_mutants::on" if operator == "&&" else "!::keyhour_mutants::on"
            self.put(cursor, "logic", f"(({leave}({{id}}) {'||' if operator == '&&' else '&&'} (", ")))",
                     [f"left of {operator} left out", f"right of {operator} left out"],
                     (token[0], token[1], f")) {operator} ({leave}({{next}}) {'||' if operator == '&&' else '&&'} ("))
            return
        if "basic_string" in cursor.type.get_canonical().spelling:
            return
        if operator in ASSIGNED:
            self.put(cursor, "assign", f"::keyhour_mutants::{ASSIGNED[operator]}({{id}}, (", "))",
                     [f"{operator} into {OTHER[operator]}"], token)
        elif operator in EDGES and all(s.type.get_canonical().kind in WHOLE for s in sides):
            # Of two mutants of one operator the edge is harder to see.
            self.put(cursor, "binary", f"::keyhour_mutants::{EDGES[operator]}({{id}}, (", "))",
                     [f"{operator} into {EDGE[operator]}"], token)
        elif operator in SWAPPED and (operator, *self.kinds(sides)) not in (("*", True, False), ("/", False, True)):
            # Of number * vector and angle / number there is no counterpart.
            self.put(cursor, "binary", f"::keyhour_mutants::{SWAPPED[operator]}({{id}}, (", "))",
                     [f"{operator} into {OTHER[operator]}"], token)

    def kinds(self, sides):
        """Is each a number? What a template leaves open counts as one."""
        return tuple(s.type.get_canonical().kind != T.RECORD for s in sides)

    def unary(self, cursor):
        source, begin, end = self.range(cursor)
        sign = source.text(begin, begin + 1)
        inner = [self.range(c) for c in cursor.get_children()]
        if sign not in ("-", "!") or len(inner) != 1 or inner[0] is None or inner[0][2] != end:
            return
        if source.text(begin, begin + 2) in ("--", "!="):
            return          # --x is not -x; a != that the compiler makes of == is seen as !(==)
        name, change = ("opposite", "- left out") if sign == "-" else ("negation", "! left out")
        self.put(cursor, "unary", f"::keyhour_mutants::{name}({{id}}, (", "))", [change], (begin, begin + 1, ""))

    def literal(self, cursor, parent):
        source, begin, end = self.range(cursor)
        text = source.text(begin, end)
        if not re.fullmatch(r"[0-9.]['0-9a-fA-FxXpPuULl.+-]*|true|false", text):
            return
        ahead = source.text(max(0, begin - 40), begin).rstrip()
        if parent is not None and parent.kind.is_declaration() and not ahead.endswith(("=", "{", "(")):
            return          # a size, or an argument of a template
        if ahead.endswith("<") and not ahead.endswith(" <") or source.text(end, end + 1) == ">":
            return          # of a template, as comparisons are written with spaces
        kind = cursor.type.get_canonical()
        if parent is not None and parent.kind == K.UNEXPOSED_EXPR and parent.type.get_canonical().kind in FLOATING | WHOLE:
            kind = parent.type.get_canonical()
        if kind.kind not in FLOATING | WHOLE | {T.BOOL}:
            return
        change = {"true": "true into false", "false": "false into true"}.get(
            text, f"{text} into 2x + 1" if kind.kind in FLOATING else f"{text} + 1")
        name = kind.spelling.replace("const ", "")
        self.put(cursor, "constant", f"::keyhour_mutants::constant<{name}>({{id}}, ", ")", [change])

    def named_constant(self, cursor):
        kind = cursor.type.get_canonical()
        if kind.kind not in FLOATING:
            return
        meant = cursor.referenced
        if meant is None or meant.kind != K.VAR_DECL or not self.is_constexpr(meant):
            return
        source, begin, end = self.range(cursor)
        name = source.text(begin, end)
        if re.fullmatch(r"[A-Za-z_][A-Za-z_0-9:]*", name):
            self.put(cursor, "constant", "::keyhour_mutants::constant<double>({id}, ", ")", [f"{name} into 2x + 1"])


def number(finder):
    """All mutants in the order of files and places, numbered."""
    mutants = []
    for source in sorted(finder.sources.values(), key=lambda s: s.name):
        for place in sorted(source.places.values(), key=lambda p: (p.begin, -p.end, p.kind)):
            place.ids = []
            at = place.token[0] if place.token else place.begin
            line = source.line_of(at)
            for change in place.changes:
                mutant = Mutant(source.name, line, at - source.line_starts[line - 1] + 1, change,
                                source.line_text(line), len(mutants))
                place.ids.append(mutant.id)
                mutants.append(mutant)
    return mutants


def rewritten(source, refused):
    """The source with its mutants, but for the numbers that the compiler refused."""
    edits = []      # (offset, order, text, bytes replaced)
    for place in source.places.values():
        if any(i in refused for i in place.ids):
            continue
        first, after = place.ids[0], place.ids[-1]

        def numbered(text):
            return text.replace("{id}", str(first)).replace("{next}", str(after))

        length = place.end - place.begin
        # At one offset: ends first, inner before outer; then beginnings, outer before inner. A whole
        # statement lies outside the expression that it is, a condition too.
        depth = {"statement": 0, "condition": 1}.get(place.kind, 2)
        edits.append((place.begin, 1, -length, depth, numbered(place.before), 0))
        if place.after:
            edits.append((place.end, 0, length, -depth, numbered(place.after), 0))
        if place.token:
            begin, end, text = place.token
            edits.append((begin, 2, 0, 0, numbered(text), end - begin))
    edits.sort(key=lambda e: e[:4])
    out, at = [], 0
    for offset, _, _, _, text, replaced in edits:
        out.append(source.bytes[at:offset].decode())
        out.append(text)
        at = offset + replaced
    out.append(source.bytes[at:].decode())
    return "".join(out)
