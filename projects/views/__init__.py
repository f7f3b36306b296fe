"""Views, one module a noun: read the request, call, render."""
