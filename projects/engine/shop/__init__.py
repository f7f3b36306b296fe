"""What a shop must know beyond sizes: cautions at the point of use."""
