"""Whatever is done to a project in whatever order, file, diary and what is shown agree after each step."""

import json
import shutil
import tempfile
import tomllib
from collections.abc import Callable
from contextlib import redirect_stderr, redirect_stdout, suppress
from functools import partial
from hashlib import sha256
from io import StringIO
from pathlib import Path
from typing import Any

import pytest
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, precondition, rule, run_state_machine_as_test
from trust.cut_off import struck
from trust.history_account import Account
from trust.history_truck import DAY, RECORDINGS, TRUCK, added

from planner.commands.table import main
from planner.plan.change import changing
from planner.plan.change.changing import Setting
from planner.plan.external_change import put_back
from planner.plan.state import State, accept, make_again, prepare, read, record, return_to, take_back
from planner.plan.truck.recording import Recording, RefusedChange
from planner.plan.work.schedule_error import ScheduleError
from planner.project.amending import amend
from planner.project.diary import bring_back, commit, redo, undo
from planner.project.diary_reading import read_diary, text_at
from planner.project.faults import Faulty
from planner.project.rested_on import put_away, values_rested_on
from planner.project.saving import NotSaved
from planner.project.source import load, parse

REFUSED = (NotSaved, Faulty, RefusedChange, ScheduleError)
BETWEEN = ("began", "hand edit", "not done")  # entries that only say what happened since the last
SETTINGS = st.tuples(
    st.sampled_from(("vehicle.wheelbase", "axles.front.rating", "fitments.tall.wheel.backspace")), st.integers(1, 9)
).map(lambda drawn: (drawn[0], f"{drawn[1]},000 lb" if drawn[0].endswith("rating") else f"{100 + drawn[1]} in ± 1 in"))
PARTS = st.sampled_from(("wanted", "ordered", "arrived"))
WAYS = st.sampled_from(("on the screens", "by a command"))
NUMBER = st.integers(0, 30)
SAVES = st.sampled_from(("set", "undo", "redo", "bring back"))
# Of the system's calls in a save, which are 68 to 83: the diary is written and the file put in place in the later half.
TURN = st.integers(0, 90) | st.integers(40, 85)


def command(*words: object) -> None:
    with redirect_stdout(StringIO()), redirect_stderr(StringIO()) as err:
        code = main([str(word) for word in words])
    if code == 2:
        raise RefusedChange(err.getvalue())
    assert code in (0, 1), err.getvalue()


class Histories(RuleBasedStateMachine):
    """A truck, what stands in its file by the account of this test (None where it is gone), and what a screen shows."""

    def __init__(self) -> None:
        super().__init__()
        self.folder = Path(tempfile.mkdtemp())
        self.path = self.folder / "truck.toml"
        self.diary = self.folder / "truck.diary.jsonl"
        self.account = Account()
        self.by_hand = {TRUCK}
        self.edit(TRUCK)
        self.torn = False
        self.held: State | None = None
        self.fresh: dict[str, State | None] = {}

    def teardown(self) -> None:
        diary = read_diary(self.path)
        assert [text_at(diary, entry.number) for entry in diary.entries] == self.account.texts
        shutil.rmtree(self.folder)

    # by the program

    @precondition(lambda self: self.readable())
    @rule(setting=SETTINGS, way=WAYS)
    def a_value_is_set(self, setting: tuple[str, str], way: str) -> None:
        self.set(*setting, way)

    @precondition(lambda self: self.readable() and 'id = "wheels"' in (self.disk or ""))
    @rule(state=PARTS, way=WAYS)
    def a_part_moves_on(self, state: str, way: str) -> None:
        self.set("parts.wheels.state", state, way)

    def set(self, key: str, value: str, way: str) -> None:
        stood = self.disk
        if way == "by a command":
            done = self.saves(partial(command, "change", self.path, f"{key}={value}", "--apply"))
        else:
            done = self.saves(lambda: accept(prepare(read(self.path, DAY), [Setting(key, value)], "why"), "why"))
        assert done or not self.sound(stood)
        if done:
            stands: Any = tomllib.loads(self.disk or "")
            for name in key.replace(".wheels.", ".0.").split("."):
                stands = stands[int(name) if name == "0" else name]
            assert str(stands).startswith(value)

    @precondition(lambda self: self.readable())
    @rule(recording=st.sampled_from(RECORDINGS), number=NUMBER)
    def something_is_recorded(self, recording: Callable[[State, int], Recording], number: int) -> None:
        def done() -> State:
            state = read(self.path, DAY)
            return record(state, recording(state, number))

        self.saves(done)

    @precondition(lambda self: self.readable())
    @rule(words=st.sampled_from((("tick", "own.wash"), ("reopen", "own.wash", "--because", "mud"), ("add", "paint"))))
    def a_task_is_dealt_with_by_a_command(self, words: tuple[str, ...]) -> None:
        self.saves(partial(command, "task", self.path, *words))

    @rule(way=WAYS)
    def the_last_change_is_undone(self, way: str) -> None:
        self.returns("undone", way, take_back, "undo")

    @rule(way=WAYS)
    def what_was_undone_is_made_again(self, way: str) -> None:
        self.returns("redone", way, make_again, "redo")

    @rule(way=WAYS, other=WAYS)
    def undone_and_made_again_it_is_the_same_to_the_byte(self, way: str, other: str) -> None:
        stood = self.disk
        if self.returns("undone", way, take_back, "undo"):
            assert self.returns("redone", other, make_again, "redo") or not self.sound(stood)
            assert self.disk == stood or not self.sound(stood)

    @precondition(lambda self: self.account.texts)
    @rule(way=WAYS, number=NUMBER)
    def an_earlier_state_is_brought_back(self, way: str, number: int) -> None:
        number %= len(self.account.texts)
        wanted, stood = self.account.texts[number], self.disk
        whole = self.account.after("saved" if self.readable() else "brought_back", stood, wanted)
        if way == "by a command":
            done = self.saves(partial(command, "diary", self.path, "bring-back", number + 1), whole)
        else:
            done = self.saves(lambda: return_to(read(self.path, DAY), number + 1), whole)
        if done:
            assert self.disk == wanted and self.last()["kind"] == "restore"
        else:
            assert wanted == stood or not self.sound(wanted) or (way == "on the screens" and not self.opens(stood))

    def returns(self, how: str, way: str, on_screens: Callable[[State], State], word: str) -> bool:
        """Undoes or redoes, where the account says that there is something, and to what it says."""
        stood = self.disk
        then = self.account.after("caught_up", stood) if self.readable() and self.account.texts else self.account
        there = then.past if how == "undone" else then.future
        wanted = there[-1] if there and self.readable() else None
        whole = then.after(how, stood) if wanted is not None else None
        if way == "by a command":
            done = self.saves(partial(command, "diary", self.path, word), whole)
        else:
            done = self.saves(lambda: on_screens(read(self.path, DAY)), whole)
        if done:
            assert self.disk == wanted and self.last()["kind"] == word
        else:
            assert wanted is None or not self.sound(wanted) or (way == "on the screens" and not self.opens(stood))
        return done

    # several at once

    @precondition(lambda self: self.sound(self.disk))
    @rule()
    def another_program_is_quicker(self) -> None:
        between: list[str] = []
        number = 200 + len(self.account.texts)  # what nothing has yet, so that both move something
        own = changing.commit

        def late(*given: Any, **more: Any) -> Any:
            if not between:
                now = load(self.path)
                text = amend(now.text, {("vehicle", "wheelbase"): f"{number} in ± 1 in"})
                between.append(commit(now, text, kind="change").written.source.text)
            return own(*given, **more)

        stood = self.disk
        with pytest.MonkeyPatch.context() as patch:
            patch.setattr(changing, "commit", late)
            command("change", self.path, f"axles.front.rating={number},000 lb", "--apply")
        self.disk = self.path.read_bytes().decode()
        self.account = self.account.after("saved", stood, between[0])
        self.account.saved(between[0], self.disk)
        self.torn = False
        data = tomllib.loads(self.disk)
        assert data["vehicle"]["wheelbase"] == f"{number} in ± 1 in"
        assert data["axles"]["front"]["rating"].startswith(f"{number},000 lb")

    @precondition(lambda self: self.held and self.held.source.text != self.disk)
    @rule(how=st.sampled_from(("change", "record", "undo", "redo", "bring back")), setting=SETTINGS, number=NUMBER)
    def a_screen_that_has_not_seen_it_saves_nothing(self, how: str, setting: tuple[str, str], number: int) -> None:
        held, before = self.held, self.stands()
        assert held is not None
        with suppress(*REFUSED):
            match how:
                case "change":  # not refused where the screen shows that value already: there is nothing to save
                    assert accept(prepare(held, [Setting(*setting)])).source.text == held.source.text
                case "record":
                    record(held, added(held, number))
                case "undo":
                    take_back(held)
                case "redo":
                    make_again(held)
                case _:
                    return_to(held, 1 + number % max(1, len(self.account.texts)))
            assert how == "change"
        assert self.stands() == before

    @precondition(lambda self: self.held and self.held.source.text != self.disk)
    @rule()
    def a_screen_puts_back_what_it_shows(self) -> None:
        held, stood = self.held, self.disk
        assert held is not None
        text = held.source.text
        whole = self.account.after("saved", stood if self.readable() else text, text)
        if self.saves(lambda: put_back(held), whole):
            assert self.disk == text
            kept = [one.read_bytes().decode() for one in self.folder.glob("truck.toml.outside.bak*")]
            assert stood in (*kept, *self.account.texts, None)
        else:
            assert not self.sound(text)

    # cut off

    @precondition(lambda self: self.readable())
    @rule(what=SAVES, number=NUMBER, turn=TURN)
    def a_save_is_killed_at_a_call(self, what: str, number: int, turn: int) -> None:
        self.strikes(what, number, turn, "killed")

    @precondition(lambda self: self.readable())
    @rule(turn=TURN, more=TURN, number=NUMBER)
    def a_save_is_killed_and_the_next_one_too(self, turn: int, more: int, number: int) -> None:
        self.strikes("set", number, turn, "killed")
        self.strikes("undo", number, more, "killed")

    @precondition(lambda self: self.readable())
    @rule(what=SAVES, number=NUMBER, turn=TURN)
    def the_disk_fails_at_a_call(self, what: str, number: int, turn: int) -> None:
        self.strikes(what, number, turn, "fails")

    def strikes(self, what: str, number: int, turn: int, how: str) -> None:
        """A save that is cut off; of a value, where there is nothing to undo, to redo or to bring back."""
        stood, before = self.disk, self.stands()
        assert stood is not None
        ready = self.account.after("caught_up", stood) if self.account.texts else self.account
        act: Callable[[], object]
        match what:
            case "undo" if ready.past:
                new, whole, act = ready.past[-1], self.account.after("undone", stood), lambda: undo(load(self.path))
            case "redo" if ready.future:
                new, whole, act = ready.future[-1], self.account.after("redone", stood), lambda: redo(load(self.path))
            case "bring back" if self.account.texts and self.account.texts[number % len(self.account.texts)] != stood:
                at = number % len(self.account.texts)
                new = self.account.texts[at]
                whole, act = self.account.after("saved", stood, new), lambda: bring_back(load(self.path), at + 1)
            case _:
                given = amend(stood, {("my_number",): number})
                entry = len(self.account.after("saved", stood, given).texts)
                new = put_away(parse(self.path, given.encode()), entry)[0].text if given != stood else stood
                whole = self.account.after("saved", stood, new)
                act = lambda: commit(load(self.path), given, kind="change")  # noqa: E731
        ended = struck(act, turn, how, REFUSED)
        now = self.path.read_bytes().decode()
        match ended:
            case "done":
                assert now == new
                self.account, self.torn = whole, False
            case "refused":
                assert how == "fails" and self.stands() == before
                self.torn = self.torn and not self.diary.read_bytes().endswith(b"\n")
            case "killed":
                raw = self.diary.read_bytes() if self.diary.exists() else b""
                self.torn = not raw.endswith(b"\n") and raw != b""
                assert now in (stood, new)
                assert now == stood or raw.count(b"\n") == len(whole.texts)
                self.account = self.account.cut_off(stood, whole, raw.count(b"\n"))
            case _:
                raise AssertionError(f"{what} ended with {ended}")
        self.disk = now

    # by hand

    @precondition(lambda self: self.readable())
    @rule(number=NUMBER, top=st.booleans())
    def a_hand_writes_a_comment(self, number: int, top: bool) -> None:
        said = f"# {number}½ turns, by hand\n"
        self.edit(said + (self.disk or "") if top else (self.disk or "") + said)

    @precondition(lambda self: self.disk and "[vehicle]" in self.disk)
    @rule(number=NUMBER)
    def a_hand_changes_a_value(self, number: int) -> None:
        start, _, rest = (self.disk or "").partition("[vehicle]")
        first, _, rest = rest.partition("wheelbase = ")
        self.edit(f'{start}[vehicle]{first}wheelbase = "{150 + number} in ± 1 in"\n{rest.partition(chr(10))[2]}')

    @precondition(lambda self: self.sound(self.disk))
    @rule(number=NUMBER)
    def a_hand_adds_a_key_that_nobody_knows(self, number: int) -> None:
        self.edit(f"{self.disk}\n[my_lists.of_{number}_and_{len(self.account.texts)}]\nhooks = {number}\n")

    @precondition(lambda self: self.sound(self.disk) and "which tires?" not in (self.disk or ""))
    @rule()
    def a_hand_writes_what_a_decision_rested_on(self) -> None:
        rested = '[decisions.rested_on]\n"vehicle.wheelbase" = "145 in ± 1/2 in"\n'
        self.edit(f'{self.disk}\n[[decisions]]\nquestion = "which tires?"\nchosen = "37s"\n\n{rested}')

    @precondition(lambda self: self.sound(self.disk))
    @rule()
    def a_hand_makes_a_fault(self) -> None:
        self.edit((self.disk or "").replace("[vehicle]", '[vehicle]\ntrack = "wide"', 1))

    @precondition(lambda self: self.sound(self.disk))
    @rule(share=st.floats(0, 0.99))
    def the_file_is_cut_short(self, share: float) -> None:
        assert self.disk is not None
        self.edit(self.disk[: int(share * len(self.disk))])

    @rule(number=NUMBER)
    def a_hand_puts_an_earlier_text_back(self, number: int) -> None:
        texts = self.account.texts or [TRUCK]
        self.edit(texts[-1 - number % len(texts)])

    @precondition(lambda self: self.sound(self.disk))
    @rule()
    def the_file_is_thrown_away(self) -> None:
        self.path.unlink(missing_ok=True)
        self.disk = None

    # what is done, and what stands after it

    def edit(self, text: str) -> None:
        self.path.write_bytes(text.encode())
        self.disk: str | None = text
        self.by_hand.add(text)

    def saves(self, act: Callable[[], State | None], whole: Account | None = None) -> bool:
        """Does what ends in a save, after which the account is `whole`; where it is refused, no byte moves."""
        stood, before = self.disk, self.stands()
        try:
            shown = act()
        except REFUSED:
            assert self.stands() == before
            return False
        self.disk = self.path.read_bytes().decode()
        if self.stands() != before:
            assert stood is not None or whole
            self.account = whole or self.account.after("saved", stood or "", self.disk)
            self.torn = False
        if shown is not None:
            self.held = shown
        return True

    def stands(self) -> tuple[bytes | None, bytes]:
        """The file, and the whole lines of its diary: half a one, from a power cut, may be moved aside at any time."""
        raw = self.diary.read_bytes() if self.diary.exists() else b""
        return self.path.read_bytes() if self.path.exists() else None, raw[: raw.rfind(b"\n") + 1]

    def last(self) -> Any:
        return json.loads(self.stands()[1].splitlines()[-1])

    def readable(self) -> bool:
        try:
            return self.disk is not None and tomllib.loads(self.disk) is not None
        except tomllib.TOMLDecodeError:
            return False

    def opens(self, text: str | None) -> bool:
        return self.read_anew(text) is not None

    def sound(self, text: str | None) -> bool:
        """Whether the planner finds no fault in a text."""
        state = self.read_anew(text)
        return state is not None and not state.opened.opened.faults

    def read_anew(self, text: str | None) -> State | None:
        if text is not None and text not in self.fresh:
            other = self.folder / "other"
            other.mkdir(exist_ok=True)
            (other / "truck.toml").write_bytes(text.encode())
            if self.diary.exists():
                shutil.copy(self.diary, other)
            try:
                self.fresh[text] = read(other / "truck.toml", DAY)
            except Faulty:
                self.fresh[text] = None
        return None if text is None else self.fresh[text]

    @invariant()
    def file_diary_and_what_is_shown_agree(self) -> None:
        self.the_file_is_what_was_saved_or_what_the_hand_made_of_it()
        self.the_diary_is_whole_and_ends_with_the_file_or_the_next_save_catches_it_up()
        self.what_is_shown_is_what_the_file_says()
        self.what_each_record_rests_on_is_known()

    def the_file_is_what_was_saved_or_what_the_hand_made_of_it(self) -> None:
        assert self.stands()[0] == (None if self.disk is None else self.disk.encode())
        assert self.disk is None or self.disk in self.by_hand or self.readable()

    def the_diary_is_whole_and_ends_with_the_file_or_the_next_save_catches_it_up(self) -> None:
        diary = read_diary(self.path)
        assert bool(diary.torn) == self.torn and len(diary.troubles) == self.torn
        texts = self.account.texts
        assert [entry.number for entry in diary.entries] == list(range(1, len(texts) + 1))
        for entry in diary.entries[-2:]:
            assert text_at(diary, entry.number) == texts[entry.number - 1]
            assert entry.after == sha256(texts[entry.number - 1].encode()).hexdigest()
            assert (entry.kind if entry.kind in BETWEEN else "") == self.account.kinds[entry.number - 1]

    def what_is_shown_is_what_the_file_says(self) -> None:
        if self.held is not None and self.held.source.text == self.disk:
            fresh = self.read_anew(self.disk)
            assert fresh is not None
            assert (self.held.flags, self.held.tally) == (fresh.flags, fresh.tally)
            assert (self.held.work, self.held.schedule_error) == (fresh.work, fresh.schedule_error)

    def what_each_record_rests_on_is_known(self) -> None:
        fresh = self.read_anew(self.disk)
        if fresh is not None:
            for record in (*fresh.opened.project.decisions, *fresh.opened.project.tasks):
                assert not record.rests or values_rested_on(self.path, record) is not None


@pytest.mark.parametrize(
    ("histories", "steps"),
    [pytest.param(2, 12, marks=pytest.mark.shortened), pytest.param(15, 20, marks=pytest.mark.slow)],
)
def test_file_diary_and_what_is_shown_agree_after_each_step_of_any_history(histories: int, steps: int) -> None:
    run_state_machine_as_test(Histories, settings=settings(max_examples=histories, stateful_step_count=steps))
