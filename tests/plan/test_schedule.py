"""The schedule: textbook examples, a general graph library on random graphs, calendar dates by hand, circles."""

from datetime import date, timedelta
from time import process_time

import networkx as nx
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.plan.work.schedule import Delivery, Job, schedule
from planner.plan.work.schedule_error import CircularWaits, NoSuchJob, TwiceNamed

MONDAY = date(2026, 1, 5)

# A textbook on operations management ("Operations Management", chapter on project management): the paper maker that
# has sixteen weeks to install air filters. Weeks. Standing: from memory; every row follows by hand from the first two.
AIR_FILTERS = {  # activity: duration, waits on, earliest start, latest start, slack
    "A": (2, "", 0, 0, 0),
    "B": (3, "", 0, 1, 1),
    "C": (2, "A", 2, 2, 0),
    "D": (4, "AB", 3, 4, 1),
    "E": (4, "C", 4, 4, 0),
    "F": (3, "C", 4, 10, 6),
    "G": (5, "DE", 8, 8, 0),
    "H": (2, "FG", 13, 13, 0),
}
# A textbook on operations research ("Introduction to Operations Research", PERT/CPM): the contractor's new plant, 44
# weeks by A-B-C-E-F-J-L-N. Standing: from memory; slack worked by hand beside it.
NEW_PLANT = {  # activity: duration, waits on, slack
    "A": (2, "", 0),
    "B": (4, "A", 0),
    "C": (10, "B", 0),
    "D": (6, "C", 4),
    "E": (4, "C", 0),
    "F": (5, "E", 0),
    "G": (7, "D", 4),
    "H": (9, "EG", 4),
    "I": (7, "C", 2),
    "J": (8, "FI", 0),
    "K": (4, "J", 1),
    "L": (5, "J", 0),
    "M": (2, "H", 4),
    "N": (6, "KL", 0),
}


def jobs_of(table):
    return [Job(name, row[0], tuple(row[1])) for name, row in table.items()]


def test_the_textbooks_air_filters_take_fifteen_weeks_by_the_books_path():
    found = schedule(jobs_of(AIR_FILTERS))
    assert found.hours == 15
    assert found.critical == ("A", "C", "E", "G", "H")
    for name, (duration, _, earliest, latest, slack) in AIR_FILTERS.items():
        times = found.times[name]
        assert (times.earliest_start, times.earliest_finish) == (earliest, earliest + duration)
        assert times.latest_start == latest
        assert times.slack == slack
        assert times.critical == (slack == 0)


def test_the_textbooks_new_plant_takes_44_weeks_by_the_books_path():
    found = schedule(jobs_of(NEW_PLANT))
    assert found.hours == 44
    assert found.critical == tuple("ABCEFJLN")
    assert {name: found.times[name].slack for name in NEW_PLANT} == {name: row[2] for name, row in NEW_PLANT.items()}


@st.composite
def random_jobs(draw, most=14):
    """Jobs that wait on earlier ones only, given in a mixed order."""
    count = draw(st.integers(1, most))
    hours = draw(st.lists(st.integers(0, 12), min_size=count, max_size=count))
    jobs = []
    for at in range(count):
        after = draw(st.sets(st.integers(0, at - 1), max_size=4)) if at else set()
        jobs.append(Job(str(at), float(hours[at]), tuple(str(one) for one in sorted(after))))
    return draw(st.permutations(jobs))


def graph_of(jobs):
    """A begin and an end for each job, the way between them its hours."""
    graph = nx.DiGraph()
    for job in jobs:
        graph.add_edge((job.id, 0), (job.id, 1), weight=job.hours)
        for earlier in job.after:
            graph.add_edge((earlier, 1), (job.id, 0), weight=0)
    return graph


@given(random_jobs())
def test_times_agree_with_a_general_graph_library(jobs):
    graph, found = graph_of(jobs), schedule(jobs)
    total = nx.dag_longest_path_length(graph)
    assert found.hours == total
    for job in jobs:
        before = nx.dag_longest_path_length(graph.subgraph({(job.id, 0)} | nx.ancestors(graph, (job.id, 0))))
        behind = nx.dag_longest_path_length(graph.subgraph({(job.id, 0)} | nx.descendants(graph, (job.id, 0))))
        times = found.times[job.id]
        assert times.earliest_start == before
        assert times.latest_start == total - behind
        assert times.slack >= 0


@given(random_jobs())
def test_the_critical_path_is_a_chain_of_waits_as_long_as_the_whole(jobs):
    found, by_id = schedule(jobs), {job.id: job for job in jobs}
    assert sum(by_id[name].hours for name in found.critical) == found.hours
    assert all(found.times[name].critical for name in found.critical)
    for earlier, later in zip(found.critical, found.critical[1:], strict=False):
        assert earlier in by_id[later].after


@given(random_jobs())
def test_alone_takes_all_hours_where_nothing_is_waited_for_from_outside(jobs):
    assert schedule(jobs).alone_hours == sum(job.hours for job in jobs)


@given(random_jobs(), st.sets(st.integers(0, 30), min_size=1, max_size=3))
def test_alone_is_never_sooner_than_with_hands_enough(jobs, waits):
    deliveries = [Delivery(f"part {days}", days, (jobs[0].id,)) for days in waits]
    found = schedule(jobs, deliveries, hours_a_week=14)
    assert found.alone_hours >= found.hours
    assert found.alone_hours <= sum(job.hours for job in jobs) + 2 * max(waits)


def closed(pairs):
    return [Job(one, 1, (other,)) for one, other in pairs]


def test_a_circle_is_named_in_order_and_nothing_beside_it():
    jobs = [Job("paint", 1), *closed([("a", "c"), ("b", "a"), ("c", "b")]), Job("drive", 1, ("c",))]
    with pytest.raises(CircularWaits) as caught:
        schedule(jobs)
    assert caught.value.circle == ("a", "c", "b")
    assert str(caught.value) == "a waits on c, c waits on b, b waits on a"


def test_a_job_that_waits_on_itself_is_a_circle_of_one():
    with pytest.raises(CircularWaits) as caught:
        schedule([Job("a", 1, ("a",))])
    assert caught.value.circle == ("a",)


def test_a_part_that_is_ordered_by_the_job_that_needs_it_is_a_circle():
    with pytest.raises(CircularWaits) as caught:
        schedule([Job("fit", 1)], [Delivery("wheels", 7, ("fit",), by="fit")], hours_a_week=7)
    assert set(caught.value.circle) == {"fit", "wheels"}


@given(random_jobs(), st.data())
def test_every_circle_that_is_named_is_one(jobs, data):
    graph = graph_of(jobs)
    later = data.draw(st.sampled_from([job.id for job in jobs]))
    ends = [name for name, side in nx.descendants(graph, (later, 0)) if side == 1]
    earlier = data.draw(st.sampled_from(sorted(set(ends) | {later})))
    jobs = [job._replace(after=(*job.after, earlier)) if job.id == later else job for job in jobs]
    by_id = {job.id: job for job in jobs}
    with pytest.raises(CircularWaits) as caught:
        schedule(jobs)
    circle = caught.value.circle
    assert len(set(circle)) == len(circle)
    for one, other in zip(circle, (*circle[1:], circle[0]), strict=True):
        assert other in by_id[one].after


def test_a_wait_on_what_is_not_there_and_a_name_given_twice_are_said():
    with pytest.raises(NoSuchJob, match="fit names paint, which isn't there"):
        schedule([Job("fit", 1, ("paint",))])
    with pytest.raises(NoSuchJob, match="wheels names fit, which isn't there"):
        schedule([], [Delivery("wheels", 7, ("fit",))], hours_a_week=7)
    with pytest.raises(NoSuchJob, match="wheels names order, which isn't there"):
        schedule([Job("fit", 1)], [Delivery("wheels", 7, ("fit",), by="order")], hours_a_week=7)
    with pytest.raises(TwiceNamed, match="two are called fit"):
        schedule([Job("fit", 1), Job("fit", 2)])


def test_hours_have_dates_with_the_week_spread_evenly_over_seven_days():
    # 14 hours a week are 2 hours a day. Hours 0 to 3 are Monday and Tuesday; hours 3 to 4 are Tuesday's second.
    found = schedule([Job("a", 3), Job("b", 1, ("a",)), Job("c", 2, ("b",))], start=MONDAY, hours_a_week=14)
    days = {name: (times.starts, times.ends) for name, times in found.times.items()}
    tuesday, wednesday = MONDAY + timedelta(1), MONDAY + timedelta(2)
    assert days == {"a": (MONDAY, tuesday), "b": (tuesday, tuesday), "c": (wednesday, wednesday)}
    assert found.finish == wednesday


def test_a_part_is_ordered_by_the_day_that_keeps_the_end():
    # 7 hours a week, one a day. Measuring takes days 0 and 1, ordering day 2; the wheels come ten days later: they
    # are there from day 13 and fitting takes that day and the next. Nuts need four days, and are needed on day 13 too.
    jobs = [Job("measure", 2), Job("order", 1, ("measure",)), Job("fit", 2)]
    deliveries = [Delivery("wheels", 10, ("fit",), by="order"), Delivery("nuts", 4, ("fit",), by="order")]
    found = schedule(jobs, deliveries, start=MONDAY, hours_a_week=7)
    assert found.times["fit"].starts == MONDAY + timedelta(13)
    assert found.finish == MONDAY + timedelta(14)
    assert found.critical == ("measure", "order", "wheels", "fit")
    assert found.order_by == {"wheels": MONDAY + timedelta(3), "nuts": MONDAY + timedelta(9)}
    assert found.times["wheels"].ends == MONDAY + timedelta(13)
    assert found.times["nuts"].slack == 6


def test_a_part_on_its_way_is_waited_for_only_as_long_as_is_left():
    # Ordered ten days before the start, of twelve: there on day 2.
    ordered = Delivery("wheels", 12, ("fit",), by="order", ordered=MONDAY - timedelta(10))
    found = schedule([Job("order", 5), Job("fit", 1)], [ordered], start=MONDAY, hours_a_week=7)
    assert found.times["fit"].starts == MONDAY + timedelta(2)
    assert not found.order_by
    late = ordered._replace(ordered=MONDAY + timedelta(4))
    found = schedule([Job("order", 5), Job("fit", 1)], [late], start=MONDAY, hours_a_week=7)
    assert found.times["fit"].starts == MONDAY + timedelta(16)


def test_a_part_that_has_come_and_a_job_that_is_done_hold_nothing_up():
    jobs = [Job("measure", 8), Job("order", 3, ("measure",), done=True), Job("fit", 1, ("order",))]
    found = schedule(jobs, [Delivery("wheels", 60, ("fit",), by="order", arrived=True)], start=MONDAY, hours_a_week=7)
    assert found.times["fit"].earliest_start == 0
    assert not found.order_by


def test_one_pair_of_hands_works_on_while_a_part_is_on_its_way():
    # One hour a day. Ordering takes day 0, the part comes on day 5; two hours of painting fit between.
    jobs = [Job("order", 1), Job("paint", 2), Job("fit", 1)]
    found = schedule(jobs, [Delivery("part", 4, ("fit",), by="order")], start=MONDAY, hours_a_week=7)
    assert (found.hours, found.alone_hours) == (6, 6)
    assert found.alone == MONDAY + timedelta(5)


def test_without_a_start_or_hours_a_week_there_are_hours_and_no_dates():
    for known in ({}, {"start": MONDAY}, {"hours_a_week": 7.0}):
        found = schedule([Job("a", 2), Job("b", 3, ("a",))], [Delivery("part", 0, ("b",))], **known)
        assert found.hours == 5
        assert found.finish is None and found.alone is None and not found.order_by
        assert found.times["a"].starts is None


def test_nothing_to_do_takes_no_time():
    found = schedule([], start=MONDAY, hours_a_week=7)
    assert (found.hours, found.critical, dict(found.times)) == (0, (), {})


def test_a_schedule_longer_than_a_century_has_no_dates_and_no_fault():
    found = schedule([Job("a", 1e6)], start=MONDAY, hours_a_week=0.001)
    assert found.finish is None and found.times["a"].ends is None


def test_ten_thousand_jobs_are_scheduled_in_a_second():
    jobs = [Job(str(at), 1.5, tuple(str(one) for one in range(max(0, at - 3), at))) for at in range(10_000)]
    began = process_time()
    found = schedule(jobs, start=MONDAY, hours_a_week=10)
    assert process_time() - began < 1
    assert found.hours == 15_000
