"""Who is in a class, and joining it."""

from django.urls import path

from projects.views import (
    join_cards,
    joining,
    roster,
)

urlpatterns = [
    path("classes/<int:pk>/roster/", roster.class_roster, name="class-roster"),
    path(
        "classes/<int:pk>/roster/<int:student>/",
        roster.student_edit,
        name="student-edit",
    ),
    path(
        "classes/<int:pk>/roster/<int:student>/card/",
        roster.card_renew,
        name="card-renew",
    ),
    path("classes/<int:pk>/cards/", join_cards.class_cards, name="class-cards"),
    path(
        "classes/<int:pk>/cards.pdf", join_cards.class_cards_pdf, name="class-cards-pdf"
    ),
    path(
        "classes/<int:pk>/roster.pdf",
        join_cards.class_roster_pdf,
        name="class-roster-pdf",
    ),
    path("join/", joining.join, name="join"),
    path("join/<str:code>/", joining.join_card, name="join-card"),
]
