"""A page for builds whose readings can't all be right."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps

from django.http import HttpResponse
from django.shortcuts import render

from projects.access import get_build
from projects.engine.errors import EngineError
from projects.http import HtmxRequest
from projects.words import lines

View = Callable[..., HttpResponse]


def shows_broken_builds(view: View) -> View:
    """Show why a build can't be solved, in place of a page that needs it solved.

    Two phones can log at one moment what only together is impossible; whoever comes
    next is told, and led to where a reading is set aside.
    """

    @wraps(view)
    def shown(
        request: HtmxRequest, pk: int, *args: object, **kwargs: object
    ) -> HttpResponse:
        try:
            return view(request, pk, *args, **kwargs)
        except EngineError as error:
            context = {"build": get_build(request, pk), "lines": lines(error)}
            return render(request, "projects/build_broken.html", context)

    return shown
