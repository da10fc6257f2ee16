"""The one error for a text that cannot be read as the value that is wanted."""

from planner.quantities.text import clean, cut

SHOWN_WIDTH = 40


class Accepted(str):
    """What to write, with an example in general; whoever knows of which entry it is says one of that.

    >>> told = Accepted("write a number with in or mm", "5 1/2 in")
    >>> print(told, told.with_example("24 in ± 1/8 in"), sep=" | ")
    write a number with in or mm, such as 5 1/2 in | write a number with in or mm, such as 24 in ± 1/8 in
    """

    words: str

    def __new__(cls, words: str, example: str) -> "Accepted":
        told = super().__new__(cls, f"{words}, such as {example}")
        told.words = words
        return told

    def with_example(self, example: str) -> str:
        return f"{self.words}, such as {example}"


class Unreadable(ValueError):
    """What a person wrote is no value of the kind wanted; its text is one plain line, fit for a terminal.

    `read` is what was read, made harmless and cut short; `problem` is what is the matter with it, as the end of
    a sentence that begins with what was read; `accepted` is what to write instead.

    >>> print(Unreadable("5 parsecs", "is not a length", "write a number with in, ft or mm"))
    '5 parsecs' is not a length: write a number with in, ft or mm
    """

    def __init__(self, read: str, problem: str, accepted: str) -> None:
        # Sliced before cleaning, so that a megabyte of text costs no more than a line.
        self.read = cut(clean(read[: SHOWN_WIDTH + 1]), SHOWN_WIDTH)
        self.problem = problem
        self.accepted = accepted
        super().__init__(f"'{self.read}' {problem}: {accepted}")
