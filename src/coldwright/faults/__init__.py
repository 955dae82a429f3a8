"""Each fault one record: what it alters, how often it comes, its words, what mends it."""
