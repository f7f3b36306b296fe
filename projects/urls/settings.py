"""What a class is: dates, staff, its data, its log of near misses."""

from django.urls import path

from projects.views import (
    class_data,
    class_settings,
    meetings,
    near_misses,
    staff,
)

urlpatterns = [
    path(
        "classes/<int:pk>/settings/",
        class_settings.class_settings,
        name="class-settings",
    ),
    path(
        "classes/<int:pk>/archive/", class_settings.class_archive, name="class-archive"
    ),
    path("classes/<int:pk>/meetings/", meetings.class_meetings, name="class-meetings"),
    path(
        "classes/<int:pk>/meetings.ics", meetings.class_calendar, name="class-calendar"
    ),
    path("classes/<int:pk>/staff/", staff.class_staff, name="class-staff"),
    path("classes/<int:pk>/export.zip", class_data.class_export, name="class-export"),
    path("classes/<int:pk>/delete/", class_data.class_delete, name="class-delete"),
    path(
        "classes/<int:pk>/roster/<int:student>/delete/",
        class_data.student_delete,
        name="student-delete",
    ),
    path(
        "classes/<int:pk>/near-misses/",
        near_misses.near_miss_list,
        name="near-miss-list",
    ),
    path(
        "classes/<int:pk>/near-misses.pdf",
        near_misses.near_miss_pdf,
        name="near-miss-pdf",
    ),
]
