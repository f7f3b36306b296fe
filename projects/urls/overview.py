"""A class on one page, and all its sheets."""

from django.urls import path, re_path

from projects.views import (
    class_prints,
    overview,
)

urlpatterns = [
    path("classes/<int:pk>/", overview.class_detail, name="class-detail"),
    re_path(
        r"^classes/(?P<pk>[0-9]+)/overview\.(?P<kind>csv|ods)$",
        overview.class_overview_file,
        name="class-overview-file",
    ),
    path("classes/<int:pk>/prints/", class_prints.class_prints, name="class-prints"),
    path("classes/<int:pk>/pack/", class_prints.class_pack_page, name="class-pack"),
    path(
        "classes/<int:pk>/pack.pdf", class_prints.class_pack_pdf, name="class-pack-pdf"
    ),
]
