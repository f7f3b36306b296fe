"""People, classes, plans and builds for tests."""

import copy
import json
from typing import Any

from django.contrib.auth.hashers import MD5PasswordHasher
from django.utils import timezone
from factory.declarations import (
    LazyAttribute,
    LazyFunction,
    PostGeneration,
    SelfAttribute,
    Sequence,
    SubFactory,
)
from factory.django import DjangoModelFactory

from projects import actions, demo
from projects.engine.fit.advice import Target
from projects.engine.shop.machines import MACHINES
from projects.engine.units import read_length
from projects.models import (
    Build,
    Machine,
    Membership,
    Plan,
    Reading,
    Revision,
    Right,
    Shop,
    ShopClass,
    SignOff,
    User,
)

PASSWORD = "jarrahdowel"
# a cheap hash: the real ones are slow on purpose (see projects/conftest.py)
HASH = MD5PasswordHasher().encode(PASSWORD, "salt")
POPLAR = Target(kind="stock", key="poplar34")
PLYWOOD = Target(kind="stock", key="ply14")
OPENING = Target(kind="distance", key="opening")
SHELF_CUT = Target(kind="cut", key="shelf", dimension="length")


def plan_bytes(name: str = demo.CLASS_PLAN) -> bytes:
    """Return one of the demo's plan files."""
    return (demo.PLANS / f"{name}.json").read_bytes()


def plan_data() -> dict[str, Any]:
    """Return the boot bench as data to change."""
    data: dict[str, Any] = json.loads(plan_bytes())
    return copy.deepcopy(data)


def as_bytes(data: dict[str, Any]) -> bytes:
    """Return a plan's data as a file."""
    return json.dumps(data, ensure_ascii=False).encode()


class UserFactory(DjangoModelFactory[User]):
    """A student."""

    class Meta:
        model = User

    username = Sequence(lambda n: f"student-{n}")
    name = Sequence(lambda n: f"Student Number{n}")
    password = HASH


class InstructorFactory(UserFactory):
    """Somebody who may publish plans."""

    username = Sequence(lambda n: f"instructor-{n}")
    name = Sequence(lambda n: f"Instructor Number{n}")
    is_instructor = True


class PlanFactory(DjangoModelFactory[Plan]):
    """A plan without a revision."""

    class Meta:
        model = Plan

    owner = SubFactory(InstructorFactory)
    title = "Hall boot bench"


class RevisionFactory(DjangoModelFactory[Revision]):
    """The boot bench, published."""

    class Meta:
        model = Revision

    plan = SubFactory(PlanFactory)
    number = 1
    document = LazyFunction(lambda: plan_bytes().decode())
    published_at = LazyFunction(timezone.now)
    published_by = SelfAttribute("plan.owner")


class ShopFactory(DjangoModelFactory[Shop]):
    """An instructor's shop, with no machine in it yet."""

    class Meta:
        model = Shop
        django_get_or_create = ("owner",)

    owner = SubFactory(InstructorFactory)


class MachineFactory(DjangoModelFactory[Machine]):
    """A table saw in a shop."""

    class Meta:
        model = Machine

    shop = SubFactory(ShopFactory)
    kind = "table_saw"
    name = LazyAttribute(lambda machine: MACHINES[machine.kind].name)


def sign_off(student: User, machine: Machine, **fields: Any) -> SignOff:
    """Sign a student off on a machine, by the shop's owner and as of now."""
    given = {
        "act": SignOff.Act.SIGNED,
        "at": timezone.now(),
        "by": machine.shop.owner,
        **fields,
    }
    return SignOff.objects.create(student=student, machine=machine, **given)


def teach(made: ShopClass, *_args: Any, **_more: Any) -> None:
    """Let the plan's owner teach a class."""
    Membership.objects.create(
        shop_class=made, user=made.revision.plan.owner, role=Membership.Role.INSTRUCTOR
    )


class ShopClassFactory(DjangoModelFactory[ShopClass]):
    """A class taught by its plan's owner."""

    class Meta:
        model = ShopClass
        skip_postgeneration_save = True

    title = "Thursday evenings"
    revision = SubFactory(RevisionFactory)
    shop = SubFactory(ShopFactory, owner=SelfAttribute("..revision.plan.owner"))
    instructor = PostGeneration(teach)


def enrol(shop_class: ShopClass, **fields: Any) -> Build:
    """Put a new student into a class; return their build, with what pages need."""
    build = actions.enrol(shop_class, UserFactory.create(**fields))
    return Build.objects.with_plan().get(pk=build.pk)


def log(build: Build, target: Target, *typed: str, **more: Any) -> list[Reading]:
    """Log one reading a point, from point 1 or `point` on; keep whatever it is."""
    rows = list(build.readings.all())
    first = more.pop("point", 1)
    more = {"by": build.student, "instrument": "caliper", "keep": True, **more}
    for point, text in enumerate(typed, start=first):
        length = read_length(text, unit="in")
        actions.log_reading(
            build, rows, target=target, point=point, length=length, typed=text, **more
        )
    return rows


def log_stock(build: Build) -> list[Reading]:
    """Log three points of each stock of the boot bench."""
    log(build, POPLAR, "0.742", "0.744", "0.741")
    return log(build, PLYWOOD, "0.240", "0.238", "0.239")


def help_in(shop_class: ShopClass, *rights: Right, **fields: Any) -> User:
    """Let a new assistant help in a class, with the rights given."""
    helper = UserFactory.create(**fields)
    Membership.objects.create(
        shop_class=shop_class,
        user=helper,
        role=Membership.Role.ASSISTANT,
        **dict.fromkeys(rights, True),
    )
    return helper
