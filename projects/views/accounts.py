"""Signing in and out, and where each goes from there."""

from __future__ import annotations

from django.contrib.auth.decorators import login_required
from django.contrib.auth.views import LoginView, LogoutView
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_safe

from projects.access import signed_in
from projects.joining_forms import SignInForm
from projects.models import ShopClass

sign_in = LoginView.as_view(
    template_name="projects/sign_in.html",
    authentication_form=SignInForm,
    redirect_authenticated_user=True,
)
sign_out = LogoutView.as_view()


@require_safe
@login_required
def home(request: HttpRequest) -> HttpResponse:
    """Go to the one thing somebody has, or show the choice."""
    user = signed_in(request)
    if user.is_instructor or ShopClass.objects.staffed_by(user).exists():
        return redirect("class-list")
    builds = list(user.builds.present().with_plan())
    if len(builds) == 1:
        return redirect("build-steps", builds[0].pk)
    return render(request, "projects/build_list.html", {"builds": builds})
