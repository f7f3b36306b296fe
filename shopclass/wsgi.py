"""The app for a web server; `manage.py serve` uses it too."""

import os

from django.core.wsgi import get_wsgi_application

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "shopclass.settings")

application = get_wsgi_application()
