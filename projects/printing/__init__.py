"""Paper, one module a kind: a template, laid out by WeasyPrint."""
