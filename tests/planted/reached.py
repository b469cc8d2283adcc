"""Which functions a test file reaches: a mark at the head of each of them.

A file is compiled with one call more in every function, on the line of its first
statement, so that nothing else of it moves.
"""

import ast
import builtins
import os
from importlib.machinery import SourceFileLoader

MARK = "_function_is_reached"
FUNCTIONS = ast.FunctionDef | ast.AsyncFunctionDef


def function_at(text, first, last):
    """Return the name of the innermost function that holds these lines, or None.

    A fault in the line of a `def` is one of its defaults: at the file's own level.
    """
    found = None
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, FUNCTIONS) and node.body[0].lineno <= first:
            is_inner = found is None or node.lineno >= found.lineno
            if last <= node.end_lineno and is_inner:
                found = node
    return found and found.name


def marked(folder):
    """Return {path: its code with marks} of all files of a folder."""
    return {
        str(path): _marked(path, path.relative_to(folder).as_posix())
        for path in sorted(folder.rglob("*.py"))
    }


def _marked(path, name):
    tree = ast.parse(path.read_text(encoding="utf-8"))
    for function in [n for n in ast.walk(tree) if isinstance(n, FUNCTIONS)]:
        after = 1 if ast.get_docstring(function, clean=False) is not None else 0
        here = function.body[min(after, len(function.body) - 1)]
        call = ast.parse(f"{MARK}({f'{name}:{function.name}'!r})").body[0]
        for node in ast.walk(call):
            ast.copy_location(node, here)
        function.body.insert(after, call)
    return compile(tree, str(path), "exec")


def watch(codes, out):
    """Import marked code; write each function reached to a file, once a process."""
    file = os.open(out, os.O_WRONLY | os.O_APPEND | os.O_CREAT)
    told, as_before = set(), SourceFileLoader.get_code

    def reach(name):
        if name not in told:
            told.add(name)
            os.write(file, f"{name}\n".encode())

    def get_code(loader, name):
        return codes.get(loader.path) or as_before(loader, name)

    setattr(builtins, MARK, reach)
    SourceFileLoader.get_code = get_code
