"""The one Django app."""

from django.apps import AppConfig


class ProjectsConfig(AppConfig):
    """Plans, classes, builds and readings."""

    name = "projects"
