"""What a project's diary must hold, kept in plain lists: the planner's own reading of it has no part in that."""

from copy import deepcopy


class Account:
    """The text that each entry left, in order, and the texts to which undo and redo lead.

    A text counts once a program has written it down; what a hand did to the file since is found at the next save. So is
    that the last save did not come to its end: then the file reads as before it, and undo and redo are as before it.
    """

    def __init__(self) -> None:
        self.texts: list[str] = []
        self.kinds: list[str] = []  # of the entries that say what happened since the last; empty for a program's own
        self.past: list[str] = []
        self.future: list[str] = []
        self.before_save: tuple[list[str], list[str]] | None = None  # None where no save can have been cut off

    def saved(self, stood: str, new: str) -> None:
        """A program found the file so, and gave it that text."""
        self.caught_up(stood)
        self._enter(new, [*self.past, stood], []) if new != stood else self._enter(new, self.past, self.future)

    def brought_back(self, stood: str, new: str) -> None:
        """Over what could not be read, or was gone: it was no state of the project, and is no entry."""
        self.saved(self.texts[-1], new)

    def undone(self, stood: str) -> str:
        self.caught_up(stood)
        new = self.past[-1]
        self._enter(new, self.past[:-1], [*self.future, stood])
        return new

    def redone(self, stood: str) -> str:
        self.caught_up(stood)
        new = self.future[-1]
        self._enter(new, [*self.past, stood], self.future[:-1])
        return new

    def caught_up(self, stood: str) -> None:
        """What happened to the file since the last entry is an entry too."""
        if not self.texts:
            self.texts, self.kinds = [stood], ["began"]
        elif stood == self.texts[-1]:
            return
        elif self.before_save is not None and stood == self.texts[-2]:
            self.past, self.future = self.before_save
            self.texts.append(stood)
            self.kinds.append("not done")
        else:
            self.past, self.future = [*self.past, self.texts[-1]], []
            self.texts.append(stood)
            self.kinds.append("hand edit")
        self.before_save = None

    def after(self, how: str, *texts: str) -> "Account":
        """Another account, on which one more was saved, brought_back, undone, redone or caught_up."""
        then = deepcopy(self)
        getattr(then, how)(*texts)
        return then

    def cut_off(self, stood: str, whole: "Account", entries: int) -> "Account":
        """The account where a save that leads to `whole` was killed after so many entries."""
        if entries == len(whole.texts):
            return whole
        then = deepcopy(self)
        if entries > len(self.texts):  # what came before its own entry
            then.caught_up(stood)
        return then

    def _enter(self, new: str, past: list[str], future: list[str]) -> None:
        self.before_save = self.past, self.future
        self.texts.append(new)
        self.kinds.append("")
        self.past, self.future = past, future
