"""The addresses of the app's pages."""

from django.urls import path

from projects.views import accounts, builds, classes, lengths, plans, readings, sheets

urlpatterns = [
    path("", accounts.home, name="home"),
    path("sign-in/", accounts.sign_in, name="sign-in"),
    path("sign-out/", accounts.sign_out, name="sign-out"),
    path("classes/", classes.class_list, name="class-list"),
    path("classes/new/", classes.class_create, name="class-create"),
    path("classes/<int:pk>/", classes.class_detail, name="class-detail"),
    path("classes/<int:pk>/move/", classes.class_move, name="class-move"),
    path("plans/", plans.plan_list, name="plan-list"),
    path("plans/<int:pk>/", plans.plan_detail, name="plan-detail"),
    path(
        "plans/<int:pk>/revisions/<int:number>.json",
        plans.revision_file,
        name="revision-file",
    ),
    path("builds/<int:pk>/", builds.build_detail, name="build-detail"),
    path("builds/<int:pk>/sizes/<slug:part>/", builds.part_sizes, name="part-sizes"),
    path(
        "builds/<int:pk>/sizes/<slug:part>/<slug:dimension>/",
        builds.size_sum,
        name="size-sum",
    ),
    path("builds/<int:pk>/readings/", readings.readings, name="readings"),
    path(
        "builds/<int:pk>/readings/set-aside/",
        readings.reading_set_aside,
        name="reading-set-aside",
    ),
    path("builds/<int:pk>/cut-sheet/", sheets.cut_sheet, name="cut-sheet"),
    path("builds/<int:pk>/cut-sheet.pdf", sheets.cut_sheet_pdf, name="cut-sheet-pdf"),
    path("lengths/read/", lengths.length_read, name="length-read"),
    path("showing/", lengths.showing_choose, name="showing-choose"),
]
