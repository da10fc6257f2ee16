"""Being asked: where it was left off, what this truck does not have, and what was only guessed so far."""

from pydantic import Field

from planner.project.models.entry import AText, Table, words


class Asking(Table):
    """What `planner ask` keeps between two evenings. No formula and no rule reads a guess."""

    stands: AText = words("where you stand at the truck", example="wheel off", since=2, read_by="planner ask")
    skipped: list[str] = words(
        "questions put off, by the key of their entry", default=[], since=2, read_by="planner ask"
    )
    not_there: list[str] = words(
        "questions that this truck has nothing for, by the key of their entry",
        default=[],
        since=2,
        read_by="planner ask",
    )
    guesses: dict[str, AText] = Field(default={}, description="Values that were guessed, by the key of their entry.")
