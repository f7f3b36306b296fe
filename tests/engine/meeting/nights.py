"""Nights for tests: one by hand, and random ones for Hypothesis."""

from hypothesis import strategies as st

from projects.engine.meeting.records import Machine, Night, Student, Task, Turn, Way


def way(machine=None, minutes=10, setup=""):
    return Way(machine=machine, minutes=minutes, setup=setup)


def student(key, *ways, **more):
    """Return a student with one step for each way, or each tuple of ways."""
    tasks = tuple(
        Task(key=f"{n}", ways=some if isinstance(some, tuple) else (some,))
        for n, some in enumerate(ways)
    )
    return Student(key=key, tasks=tasks, **more)


def turn(who, task, machine, start, end, unit=0):
    return Turn(
        student=who,
        task=task,
        machine=machine,
        unit=None if machine is None else unit,
        start=start,
        end=end,
    )


def night(*students, machines=(), minutes=60, **more):
    return Night(minutes=minutes, machines=machines, students=students, **more)


MACHINES = st.fixed_dictionaries(
    {},
    optional={
        "units": st.integers(1, 2),
        "most_people": st.integers(1, 2),
        "setup_minutes": st.sampled_from([0, 3, 8]),
        "down_from": st.integers(0, 40),
    },
)


@st.composite
def nights(draw, most_students=5, most_steps=4, minutes=60):
    """Give nights with every kind of trouble a night can have."""
    machines = [
        Machine(key=key, **draw(MACHINES))
        for key in ("saw", "drill")[: draw(st.integers(1, 2))]
    ]
    keys = [machine.key for machine in machines]
    ways = st.builds(
        Way,
        machine=st.sampled_from([None, *keys]),
        minutes=st.integers(4, 20),
        setup=st.sampled_from(["", "a", "b", "c"]),
    )
    some = st.lists(ways, max_size=2, unique_by=lambda w: w.machine).map(tuple)
    return Night(
        minutes=minutes,
        machines=tuple(machines),
        students=tuple(
            _student(draw, f"s{n}", some, most_steps)
            for n in range(draw(st.integers(1, most_students)))
        ),
    )


def _student(draw, key, ways, most_steps):
    every = draw(st.lists(ways, min_size=1, max_size=most_steps))
    pairs = [(f"{a}", f"{b}") for b in range(len(every)) for a in range(b)]
    before = draw(st.none() | st.sets(st.sampled_from(pairs))) if pairs else None
    return student(
        key,
        *every,
        present_from=draw(st.sampled_from([0, 0, 7, 25])),
        done=draw(st.integers(0, 2)),
        before=None if before is None else tuple(sorted(before)),
    )
