"""The check of the house itself: it finds what is too large and what nothing reaches, and spares what is reached."""

import ast

import house

INVENTED = {
    "gardenkit": "",
    "gardenkit.start": "from gardenkit import beds\n\ndef main():\n    beds.lay().drawn\n    call('by_name')\n",
    "gardenkit.beds": """
LIMIT = 3
UNUSED = 4

def lay():
    return Bed(LIMIT)

def by_name():
    pass

def forgotten():
    return also_forgotten()

def also_forgotten():
    pass

class Bed:
    def drawn(self):
        pass

    def never(self):
        pass
""",
}


def test_what_nothing_reaches_is_named_and_nothing_else() -> None:
    trees = {name: ast.parse(text) for name, text in INVENTED.items()}
    found = [line.split(" ")[0].removeprefix("gardenkit.beds.") for line in house.dead(trees, ())]
    assert found == ["Bed.never", "UNUSED", "also_forgotten", "forgotten"]
    assert "forgotten" not in str(house.dead(trees, ["forgotten"]))  # a word of a template


def test_a_docstring_is_not_counted_and_a_line_too_many_is() -> None:
    body = "\n".join(["    x = 1"] * 50)
    at_most, more = (f'def f():\n    """One.\n\n    Two."""\n{body}\n{tail}' for tail in ("", "    y = 2\n"))
    assert not list(house.too_large({"m": ast.parse(at_most)}))
    assert "has 51 lines" in next(house.too_large({"m": ast.parse(more)}))
    large = "class C:\n" + "    x = 1\n" * 250
    assert "class C has 251 lines" in next(house.too_large({"m": ast.parse(large)}))
