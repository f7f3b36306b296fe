"""What a shop must know beyond sizes: its machines, cautions and written checks."""
