"""Signing off on machines, and the record of it."""

from django.urls import path, re_path

from projects.views import (
    build_machines,
    pins,
    safety_records,
    sign_offs,
)

urlpatterns = [
    path("account/pin/", pins.account_pin, name="account-pin"),
    path(
        "builds/<int:pk>/machines/",
        build_machines.build_machines,
        name="build-machines",
    ),
    path(
        "builds/<int:pk>/machines/<int:machine>/",
        build_machines.build_machine,
        name="build-machine",
    ),
    path(
        "builds/<int:pk>/machines/<int:machine>/read/",
        build_machines.machine_read,
        name="machine-read",
    ),
    path(
        "builds/<int:pk>/machines/<int:machine>/sign/",
        sign_offs.sign_off,
        name="sign-off",
    ),
    path(
        "classes/<int:pk>/sign-offs/", sign_offs.class_sign_offs, name="class-sign-offs"
    ),
    path(
        "classes/<int:pk>/sign-offs.pdf",
        safety_records.class_sign_offs_pdf,
        name="class-sign-offs-pdf",
    ),
    path(
        "builds/<int:pk>/safety-record.pdf",
        safety_records.safety_record_pdf,
        name="safety-record-pdf",
    ),
    re_path(
        r"^classes/(?P<pk>[0-9]+)/sign-offs\.(?P<kind>csv|ods)$",
        safety_records.class_sign_offs_file,
        name="class-sign-offs-file",
    ),
]
