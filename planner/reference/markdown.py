"""Plain Markdown: tables, headings and links whose targets are the ones that code hosts make of a heading."""

from collections.abc import Iterable, Sequence

MARK = "<!-- Made by `python -m planner.reference.pages docs/` from the declarations in the code: change those. -->"


def page(title: str, intro: str, *parts: Iterable[str]) -> str:
    """A page: its title, that it is made by the program, an opening, and its parts."""
    lines = [f"# {title}", "", MARK, "", intro.strip(), ""]
    for part in parts:
        lines += part
    return "\n".join(lines).rstrip() + "\n"


def table(heads: Sequence[str], rows: Iterable[Sequence[str]]) -> list[str]:
    """A table with an empty line after it; nothing where there is no row."""
    listed = [f"| {' | '.join(map(cell, row))} |" for row in rows]
    if not listed:
        return []
    return [f"| {' | '.join(heads)} |", f"|{' --- |' * len(heads)}", *listed, ""]


def cell(text: str) -> str:
    """Text that stays in its cell.

    >>> cell("a | b")
    'a \\\\| b'
    """
    return " ".join(text.split()).replace("|", "\\|")


def plain(text: str) -> str:
    """Text with the marks that Markdown would take for its own made harmless.

    >>> plain("[tires] <name> a*b")
    '\\\\[tires\\\\] \\\\<name> a\\\\*b'
    """
    for mark in "\\*[]<":
        text = text.replace(mark, "\\" + mark)
    return text


def code(text: str) -> str:
    """Text in code face.

    >>> code("axles.front")
    '`axles.front`'
    """
    return f"`{text}`"


def anchor(heading: str) -> str:
    """What a heading is called as a target of links.

    >>> anchor("tire.load_capacity"), anchor("How values are written")
    ('tireload_capacity', 'how-values-are-written')
    """
    kept = "".join(mark for mark in heading.lower() if mark.isalnum() or mark in " -_")
    return kept.replace(" ", "-")


def link(text: str, heading: str, file: str = "") -> str:
    """A link to a heading of this page or of `file`.

    >>> link("offset", "wheel.offset", "figures.md")
    '[offset](figures.md#wheeloffset)'
    """
    return f"[{text}]({file}#{anchor(heading)})"


def contents(headings: Iterable[tuple[str, int]]) -> list[str]:
    """One line of links to headings, each with how many things stand under it."""
    return [" · ".join(f"{link(heading, heading)} ({count})" for heading, count in headings), ""]


def sentence(text: str) -> str:
    """Words as a sentence: a capital first, a full stop last.

    >>> sentence("the rim is too narrow")
    'The rim is too narrow.'
    """
    return text[:1].upper() + text[1:] + ("" if text.endswith((".", ":", "!", "?")) else ".")
