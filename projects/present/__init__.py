"""What a page shows, made ready for its template: no queries, no requests."""
