"""A build step by step."""

from django.urls import path

from projects.views import (
    build_steps,
    hands,
)

urlpatterns = [
    path("builds/<int:pk>/steps/", build_steps.build_steps, name="build-steps"),
    path(
        "builds/<int:pk>/steps/<slug:step>/", build_steps.build_step, name="build-step"
    ),
    path(
        "builds/<int:pk>/steps/<slug:step>/mark/",
        build_steps.step_mark,
        name="step-mark",
    ),
    path("builds/<int:pk>/hand/", hands.hand, name="hand"),
]
