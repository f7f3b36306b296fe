"""What tests ask of a draft and of the pages it is on."""

import re
from html import unescape

from projects import drafting
from projects.models import Draft


def now(draft):
    return Draft.objects.get(pk=draft.pk).current


def document(draft):
    draft = Draft.objects.get(pk=draft.pk)
    return drafting.document_of(drafting.current_change(draft))


def text(response):
    return unescape(response.content.decode())


def words(response):
    return " ".join(re.sub(r"<[^>]+>", " ", text(response)).split())
