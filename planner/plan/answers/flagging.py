"""The flags of a project: every rule's answer at every place that is planned, in the person's words and units."""

from collections.abc import Iterator, Sequence
from typing import Any, NamedTuple

from planner.plan.answers.basis import answer_changes, fitment_of
from planner.plan.answers.basis_words import LOOK_ONCE, changes_in_words
from planner.plan.answers.causes import StandingRule, heads
from planner.plan.answers.contradictions import entries_of
from planner.plan.answers.rule_words import RuleWords, cure_of, says_of, settling
from planner.plan.answers.verdicts import verdicts
from planner.plan.truck.project import OpenProject
from planner.plan.truck.wording import close_words, count, fill, margin_text, place_name, place_names, stop_words
from planner.project.models.work import Acceptance
from planner.quantities.text import clean, normal_name, same_name
from planner.worksheet.declare import Rule
from planner.worksheet.outcome import Place, Spot
from planner.worksheet.verdict import Verdict, judge

ANSWERS = ("raised", "too close to call", "not known", "clear")

STANDING = ANSWERS[:2]

FOUND = "found"

OF_CIRCLE = ("circle", "points", "adjacent_spacing", "skip_spacing", "outer_edge_spacing")  # any of them gives it


class Flag(NamedTuple):
    """One rule's answer at one place, ready to be shown; `place_name` reads such as `tall, front`.

    `settles` and `wants` are for people: what would decide a close call, and which entries it waits for. `better` and
    `needs` say the same with the keys of the file; `better` with how well each is to be measured, as far as is known.
    `between` are the keys of entries that contradict each other by it, `as_found` how the rule stands on the truck as
    found, `under` the flag of the cause that it follows
    from.
    """

    verdict: Verdict
    places: tuple[Place, ...]
    where: str
    says: str
    cure: str
    by: str
    settles: tuple[str, ...]
    needs: tuple[str, ...]
    acceptance: Acceptance | None = None
    lapsed: str = ""
    wants: tuple[str, ...] = ()
    better: tuple[tuple[str, str], ...] = ()
    between: tuple[str, ...] = ()
    as_found: str = ""
    under: "Flag | None" = None

    @property
    def rule(self) -> Rule:
        return self.verdict.rule

    @property
    def notice(self) -> str:
        """`rear: the barrel is too close to the brake`: what it notices, and where."""
        return f"{self.where}: {self.rule.notices}" if self.where else self.rule.notices

    def told(self, at: str = "") -> str:
        """The same with its answer where it isn't raised, and without the place that is `at` hand."""
        notice = self.rule.notices if self.where == at else self.notice
        return notice if self.verdict.answer == "raised" else f"{notice} ({self.verdict.answer})"

    @property
    def accepted(self) -> bool:
        """Whether it is raised and was taken on, and that still holds."""
        return self.verdict.answer == "raised" and self.acceptance is not None and not self.lapsed

    @property
    def stands(self) -> bool:
        """Whether it stands against the plan, by itself or under its cause: raised and not accepted."""
        return self.verdict.answer == "raised" and not self.accepted

    @property
    def counts(self) -> bool:
        """Whether it stands against the plan by itself: what follows from a cause is counted with that."""
        return self.stands and self.under is None


def of_plan(rule: Rule) -> bool:
    """Whether a rule judges records, of the plan or of what was read, which have names and no places."""
    return rule.name.startswith(("plan.", "readings."))


def flags(opened: OpenProject, worded: bool = False) -> list[Flag]:
    """Every answer for what is planned, the worst first; with `worded`, what is clear says so in words too."""
    return gathered(opened, each_flag(opened, worded))


def each_flag(opened: OpenProject, worded: bool = False) -> list[Flag]:
    """Every answer at its one place, in the order of the rules."""
    return [flag_of(opened, verdict, worded) for verdict in verdicts(opened)]


def gathered(opened: OpenProject, each: list[Flag]) -> list[Flag]:
    """One flag for all places at which a rule says the same, under its head where it has one, the worst first."""
    found = sorted(_gathered(opened, each), key=worst_first)
    standing = [flag for flag in found if flag.verdict.answer in STANDING and not flag.accepted]
    under = heads(opened, [StandingRule(flag.rule, flag.places) for flag in standing])
    causes = {id(flag): standing[head] for flag, head in zip(standing, under, strict=True) if head is not None}
    placed = [flag._replace(under=causes[id(flag)]) if id(flag) in causes else flag for flag in found]
    return sorted(placed, key=worst_first)


def _gathered(opened: OpenProject, found: list[Flag]) -> Iterator[Flag]:
    """One flag for all places at which a rule says the same: front and rear, most often."""
    alike: dict[tuple[Any, ...], list[Flag]] = {}
    for flag in found:
        if flag.verdict.answer == "clear":
            yield flag  # without its words one clear answer looks like another
            continue
        stands = (flag.verdict.answer, flag.verdict.trouble, str(flag.acceptance), flag.lapsed, flag.as_found)
        said = (flag.says, flag.cure, flag.by, flag.settles, flag.needs)
        key = (flag.rule.name, flag.verdict.place[0], *stands, *said)
        alike.setdefault(key, []).append(flag)
    for flags_alike in alike.values():
        places = tuple(flag.verdict.place for flag in flags_alike)
        yield flags_alike[0]._replace(places=places, where=where_words(opened, places))


def where_words(opened: OpenProject, places: tuple[Place, ...]) -> str:
    """Several places of one fitment in words."""
    return place_names(places, _goes_without_saying(opened, places[0]))


def _goes_without_saying(opened: OpenProject, place: Place) -> bool:
    """Whether a place need not name its fitment: the only one that is planned."""
    return opened.planned == (place[0],) or (not place[0] and len(opened.planned) == 1)


def worst_first(flag: Flag) -> tuple[Any, ...]:
    """Stops, raised before too close to call, then cautions and notes the same way; accepted ones after them.

    Within these what hurts most comes first. What follows from a cause comes right after it.
    """
    head = flag if flag.under is None else flag.under
    return *_gravity(head), head is not flag, *_gravity(flag)


def _gravity(flag: Flag) -> tuple[Any, ...]:
    answer = flag.verdict.answer
    stands = answer in STANDING
    return (
        2 if not stands else 1 if flag.acceptance is not None and not flag.lapsed else 0,
        ANSWERS.index(answer) if not stands else 0,
        flag.rule.order[0],
        ANSWERS.index(answer),
        flag.rule.order[1:],
        flag.where,
    )


def flag_of(opened: OpenProject, verdict: Verdict, worded: bool) -> Flag:
    """One answer with its words, at its one place."""
    rule, opened = verdict.rule, opened.seen_from(verdict.rule.node)
    raised = bool(rule.bars) and verdict.answer == "raised"
    between = entries_of(opened.sheet, Spot(rule.node, verdict.place), opened.keys) if raised else []
    worded = worded or verdict.answer in STANDING
    seen = RuleWords(opened, verdict)
    margin = verdict.margin
    at = place_name(verdict.place, _goes_without_saying(opened, verdict.place))
    acceptance = _acceptance(opened, verdict)
    needs = tuple(dict.fromkeys(k for need in (*verdict.needs, *verdict.either) for k in opened.keys_needed(need)))
    settled = () if rule.if_close else tuple(settling(opened, one.spot, one.factor) for one in verdict.settles)
    return Flag(
        verdict=verdict,
        places=(verdict.place,),
        where=at,
        says=_with_entries(opened, fill(says_of(verdict), seen), between) if margin and worded else "",
        cure=fill(cure_of(verdict), RuleWords(opened, verdict, bare=True)) if worded else "",
        by=margin_text(opened, rule, margin) if worded else "",
        settles=tuple(dict.fromkeys(words for words, _ in settled)),
        needs=needs,
        acceptance=acceptance,
        lapsed=_lapsed(opened, acceptance) if acceptance else "",
        wants=_wants(opened, needs),
        better=tuple(dict.fromkeys(one for _, keys in settled for one in keys)),
        between=tuple(map(opened.key_of, between)),
        as_found=_as_found(opened, verdict) if verdict.answer in STANDING else "",
    )


def _wants(opened: OpenProject, needs: Sequence[str]) -> tuple[str, ...]:
    """What is missing as people read it, a bolt circle once."""
    return tuple(dict.fromkeys(circle_words(opened, key, needs) or opened.asked_for(key) for key in needs))


def circle_words(opened: OpenProject, key: str, needs: Sequence[str]) -> str:
    """The circle that a key is one way of, where all ways are missing or one more is; empty for any other key."""
    studs, _, way = key.rpartition(".")
    ways = [f"{studs}.{one}" for one in OF_CIRCLE]
    if way not in (*OF_CIRCLE, "skip", "outer_edge_skip") or len({*ways} & {*needs}) < len(ways) - 1:
        return ""
    if key in opened.at_odds or opened.faulty_line(key) is not None:
        return ""
    more = "" if {*ways} <= {*needs} else ", taken another way"
    return f"{opened.spoken(ways[0])}{more}"


def _as_found(opened: OpenProject, verdict: Verdict) -> str:
    """How the rule stands on the truck as found, if anything is known of that."""
    fitment, *rest = verdict.place
    spot = Spot(verdict.rule.node, (FOUND, *rest))
    if not verdict.rule.as_found or fitment in ("", FOUND) or spot not in opened.sheet.spots(spot.node):
        return ""
    found = judge(verdict.rule, spot.place, opened.sheet.outcome(spot))
    if found.margin is None:
        return ""
    by = margin_text(opened, found.rule, found.margin)
    return f"{found.answer}, {by}" if by else found.answer


def _with_entries(opened: OpenProject, says: str, between: Sequence[Spot]) -> str:
    """What a rule says, and the entries that it is between: which is wrong only the person can tell."""
    keys = map(opened.key_of, between)
    told = "; ".join(f"{clean(opened.spoken(key))} = {opened.written_at(key)}" for key in keys)
    return f"{says} Entered: {told}." if told else says


def _acceptance(opened: OpenProject, verdict: Verdict) -> Acceptance | None:
    """A caution that the person took on; a stop cannot be taken on, only cured."""
    if verdict.rule.severity == "stop":
        return None
    flag = verdict.rule.name
    fitting = [one for one in opened.project.acceptances if one.flag == flag and is_for(opened, one, verdict.place)]
    return fitting[-1] if fitting else None


def is_for(opened: OpenProject, acceptance: Acceptance, place: Place) -> bool:
    """Whether an acceptance was given for this place, whatever was planned beside it then and is now.

    Where it does not name the fitment, as while one alone was planned, what it rested on has to tell of which it was;
    where that cannot be known, it was of no fitment. One that rested on the truck alone was of every fitment: a change
    that goes with some of them may make their answers differ now.
    """
    at, fitment = acceptance.at or "", normal_name(place[0])
    rested_on = opened.rested_on(acceptance) or {}
    named = {normal_name(own) for name in rested_on if (own := fitment_of(opened, name))}
    candidates = named - {"found"}  # a candidate's answer may rest on the wheel found as well
    if same_name(at, place_name(place)):
        return not fitment or not candidates or fitment in candidates
    of_truck = bool(rested_on) and not named
    return same_name(at, place_name(place, alone=True)) and (of_truck or (candidates or named) == {fitment})


def _lapsed(opened: OpenProject, acceptance: Acceptance) -> str:
    """What moved since a caution was accepted; empty while all of it stands as it was."""
    if not acceptance.because:
        return "it gives no reason"
    rested_on = opened.rested_on(acceptance)
    return changes_in_words(answer_changes(opened, rested_on)) if rested_on else LOOK_ONCE


class Tally(NamedTuple):
    """How many of each answer a candidate gets, counted as `check` counts them; `following` are under their causes."""

    stops: int
    cautions: int
    notes: int
    too_close: int
    close_stops: int  # of those too close to call
    not_known: int
    clear: int
    accepted: int
    following: int


def tally(found: Sequence[Flag]) -> Tally:
    """The flags counted."""
    standing = [flag.rule.severity for flag in found if flag.counts]
    heads = [flag for flag in found if flag.under is None]
    answers = [flag.verdict.answer for flag in heads]
    return Tally(
        stops=standing.count("stop"),
        cautions=standing.count("caution"),
        notes=standing.count("note"),
        too_close=answers.count("too close to call"),
        close_stops=sum(f.verdict.answer == "too close to call" and f.rule.severity == "stop" for f in heads),
        not_known=answers.count("not known"),
        clear=answers.count("clear"),
        accepted=sum(flag.accepted for flag in heads),
        following=len(found) - len(heads),
    )


def tally_words(told: Tally) -> list[str]:
    """`2 may be stops`, `12 cautions`, `3 notes`, `12 more too close to call`, `5 not known`."""
    found = [stop_words(told.stops, told.close_stops), count(told.cautions, "caution"), count(told.notes, "note")]
    return [*found, close_words(told.too_close, told.close_stops), f"{told.not_known} not known"]
