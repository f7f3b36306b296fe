"""Gates to a shop's machines: each fetches what a person may reach, or answers 404."""

from __future__ import annotations

from django.db.models import Q
from django.http import HttpRequest
from django.shortcuts import get_object_or_404

from projects.access import get_build, signed_in
from projects.models import Build, Machine, MachinePhoto, Membership


def get_machine_photo(request: HttpRequest, pk: int) -> MachinePhoto:
    """Return a machine's photo for its shop's owner and whoever is in a class there."""
    user = signed_in(request)
    shops = Membership.objects.present().filter(user=user).values("shop_class__shop")
    allowed = Q(machine__shop__owner=user) | Q(machine__shop__in=shops)
    return get_object_or_404(MachinePhoto, allowed, machine=pk)


def get_build_machine(
    request: HttpRequest, pk: int, machine: int
) -> tuple[Build, Machine]:
    """Return a build that somebody may see and a machine in use in its class's shop."""
    build = get_build(request, pk)
    machines = Machine.objects.filter(
        shop=build.shop_class.shop_id, retired_at=None
    ).select_related("shop")
    return build, get_object_or_404(machines, pk=machine)
