"""One value at a time: lengths, texts, points, each checked against its key."""
