"""The addresses of the app's pages, a file a subject."""

from projects.urls import (
    machines,
    night,
    overview,
    plans_and_builds,
    roster,
    settings,
    signoffs,
    steps,
)

urlpatterns = [
    *plans_and_builds.urlpatterns,
    *overview.urlpatterns,
    *roster.urlpatterns,
    *settings.urlpatterns,
    *machines.urlpatterns,
    *signoffs.urlpatterns,
    *steps.urlpatterns,
    *night.urlpatterns,
]
