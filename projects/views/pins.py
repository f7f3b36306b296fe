"""The PIN that a member of staff signs with."""

from __future__ import annotations

from django.contrib.auth import authenticate, update_session_auth_hash
from django.contrib.auth.decorators import login_required
from django.core.exceptions import PermissionDenied
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods

from projects import actions, pins
from projects.access import signed_in
from projects.signoff_forms import PinForm


@sensitive_post_parameters()
@require_http_methods(["GET", "HEAD", "POST"])
@login_required
def account_pin(request: HttpRequest) -> HttpResponse:
    """Set or change one's own signing PIN, confirmed by what one signs in with."""
    user = signed_in(request)
    if not pins.can_have_one(user):
        raise PermissionDenied
    form = PinForm(request.POST if request.method == "POST" else None, label_suffix="")
    if request.method == "POST" and form.is_valid():
        given = form.cleaned_data
        # the throttle counts wrong ones, as on the page for signing in
        found = authenticate(
            request, username=user.username, password=given["password"]
        )
        if found is not None:
            # its hash may have been made anew just now: stay signed in
            update_session_auth_hash(request, found)
            actions.set_pin(user, given["pin"])
            return redirect("account-pin")
        form.add_error("password", _("This is not what you sign in with."))
    status = 422 if form.errors else 200
    return render(request, "projects/account_pin.html", {"form": form}, status=status)
