"""Run sheets, meetings, dry fits and miscuts."""

from django.urls import path

from projects.views import dry_fits, meeting_night, miscuts, run_sheets

urlpatterns = [
    path(
        "classes/<int:pk>/run-sheets/",
        run_sheets.run_sheet_list,
        name="run-sheet-list",
    ),
    path(
        "classes/<int:pk>/run-sheets/<int:machine>/",
        run_sheets.run_sheet,
        name="run-sheet",
    ),
    path(
        "classes/<int:pk>/run-sheets/<int:machine>/tick/",
        run_sheets.run_sheet_tick,
        name="run-sheet-tick",
    ),
    path(
        "classes/<int:pk>/run-sheets/<int:machine>.pdf",
        run_sheets.run_sheet_pdf,
        name="run-sheet-pdf",
    ),
    path(
        "meetings/<int:pk>/",
        meeting_night.meeting_night,
        name="meeting-night",
    ),
    path(
        "meetings/<int:pk>/presence/",
        meeting_night.meeting_presence,
        name="meeting-presence",
    ),
    path(
        "meetings/<int:pk>/plan/",
        meeting_night.meeting_plan,
        name="meeting-plan",
    ),
    path(
        "meetings/<int:pk>/outage/",
        meeting_night.machine_outage,
        name="machine-outage",
    ),
    path(
        "builds/<int:pk>/dry-fit/",
        dry_fits.build_dry_fit,
        name="build-dry-fit",
    ),
    path(
        "builds/<int:pk>/certainty/",
        dry_fits.build_certainty,
        name="build-certainty",
    ),
    path(
        "builds/<int:pk>/miscut/<slug:part>/<slug:dimension>/",
        miscuts.build_miscut,
        name="build-miscut",
    ),
    path(
        "builds/<int:pk>/ways-out/<int:way>/decide/",
        miscuts.way_decide,
        name="way-decide",
    ),
]
