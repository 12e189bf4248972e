"""Words of the bench: names, sentences, cautions."""
