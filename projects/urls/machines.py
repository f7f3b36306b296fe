"""The machines of a shop, what it asks, and the written checks."""

from django.urls import path

from projects.views import (
    machines,
    posters,
    questions,
    requirements,
    written_checks,
)

urlpatterns = [
    path("shop/machines/", machines.machine_list, name="machine-list"),
    path("shop/machines/<int:pk>/", machines.machine_detail, name="machine-detail"),
    path("machines/<int:pk>/photo.jpg", machines.machine_photo, name="machine-photo"),
    path(
        "shop/machines/<int:pk>/requirements/",
        requirements.machine_requirements,
        name="machine-requirements",
    ),
    path(
        "shop/machines/<int:pk>/questions/",
        questions.machine_questions,
        name="machine-questions",
    ),
    path(
        "shop/machines/<int:pk>/poster.pdf",
        posters.machine_poster_pdf,
        name="machine-poster-pdf",
    ),
    path("shop/posters.pdf", posters.posters_pdf, name="posters-pdf"),
    path(
        "builds/<int:pk>/machines/<int:machine>/check/",
        written_checks.written_check,
        name="written-check",
    ),
]
