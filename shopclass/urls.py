"""Every address of the app."""

from django.urls import include, path

urlpatterns = [path("", include("projects.urls"))]
