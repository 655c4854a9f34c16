"""Paper: the bench sheets, the quote, strips of marks and the measuring form as pages, and their PDF."""
