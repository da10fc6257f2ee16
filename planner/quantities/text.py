"""A person's text made harmless for a terminal, a screen or a printed sheet, and cut to a width."""

from unicodedata import category

# Controls, format marks (bidi, zero width, soft hyphen, tags), surrogates, private use, what Unicode has not given
# a meaning yet, and the line and paragraph separators. Each can move the cursor, hide, or turn the text around it.
_UNSAFE = frozenset({"Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"})


def clean(text: str) -> str:
    r"""`text` on one line, with every character that could drive a terminal or hide replaced by a visible escape.

    Cleaning twice changes nothing more. A text of several lines is split by the caller first.

    >>> clean("red \x1b[31m text")
    'red \\x1b[31m text'
    >>> clean("½ in ± ⅛")
    '½ in ± ⅛'
    """
    if text.isprintable():  # the common case, and fast
        return text
    return "".join(_escape(mark) if category(mark) in _UNSAFE else mark for mark in text)


def _escape(mark: str) -> str:
    code = ord(mark)
    if code <= 0xFF:
        return f"\\x{code:02x}"
    return f"\\u{code:04x}" if code <= 0xFFFF else f"\\U{code:08x}"


def cut(text: str, width: int) -> str:
    """`text` in at most `width` characters, an ellipsis standing for what was cut off.

    >>> cut("five and a half inches", 9)
    'five and…'
    """
    if len(text) <= width:
        return text
    return text[: width - 1].rstrip() + "…" if width > 0 else ""
