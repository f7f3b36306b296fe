"""Signing in, plans, builds and their sheets."""

from django.urls import path, re_path

from projects.views import (
    accounts,
    builds,
    checks,
    classes,
    draft_files,
    drafts,
    lengths,
    parts,
    plans,
    readings,
    sheets,
    steps,
)

urlpatterns = [
    path("", accounts.home, name="home"),
    path("sign-in/", accounts.sign_in, name="sign-in"),
    path("sign-out/", accounts.sign_out, name="sign-out"),
    path("classes/", classes.class_list, name="class-list"),
    path("classes/new/", classes.class_create, name="class-create"),
    path("classes/<int:pk>/move/", classes.class_move, name="class-move"),
    path("plans/", plans.plan_list, name="plan-list"),
    path("plans/<int:pk>/", plans.plan_detail, name="plan-detail"),
    path("plans/<int:pk>/checks/", checks.plan_checks, name="plan-checks"),
    path("plans/<int:pk>/parts/", parts.plan_parts, name="plan-parts"),
    path(
        "plans/<int:pk>/part-drawings.pdf", parts.plan_parts_pdf, name="plan-parts-pdf"
    ),
    re_path(
        r"^plans/(?P<pk>[0-9]+)/parts/(?P<part>[a-z0-9_]+)\.(?P<kind>dxf|svg)$",
        parts.plan_part_file,
        name="plan-part-file",
    ),
    path("plans/<int:pk>/steps/", steps.plan_steps, name="plan-steps"),
    path("plans/<int:pk>/pictures/<str:name>", steps.plan_picture, name="plan-picture"),
    path(
        "plans/<int:pk>/revisions/<int:number>.zip",
        plans.revision_zip,
        name="revision-zip",
    ),
    path("shop/", checks.shop_edit, name="shop-edit"),
    path("plans/start/", draft_files.draft_start, name="draft-start"),
    path("plans/<int:pk>/draft/", drafts.draft, name="draft"),
    path("plans/<int:pk>/draft/start/", draft_files.draft_edit, name="draft-edit"),
    path("plans/<int:pk>/draft/plan.json", draft_files.draft_file, name="draft-file"),
    path("plans/<int:pk>/draft/file/", draft_files.draft_import, name="draft-import"),
    path("plans/<int:pk>/draft/try/", draft_files.draft_try, name="draft-try"),
    path(
        "plans/<int:pk>/draft/publish/",
        draft_files.draft_publish,
        name="draft-publish",
    ),
    path("plans/<int:pk>/editors/", draft_files.draft_editors, name="draft-editors"),
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
    path("builds/<int:pk>/parts/", parts.build_parts, name="build-parts"),
    re_path(
        r"^builds/(?P<pk>[0-9]+)/parts/(?P<part>[a-z0-9_]+)\.(?P<kind>dxf|svg)$",
        parts.build_part_file,
        name="build-part-file",
    ),
    path(
        "builds/<int:pk>/part-drawings.pdf",
        parts.build_parts_pdf,
        name="build-parts-pdf",
    ),
    path("builds/<int:pk>/cut-sheet/", sheets.cut_sheet, name="cut-sheet"),
    path("builds/<int:pk>/cut-sheet.pdf", sheets.cut_sheet_pdf, name="cut-sheet-pdf"),
    path("lengths/read/", lengths.length_read, name="length-read"),
    path("showing/", lengths.showing_choose, name="showing-choose"),
]
