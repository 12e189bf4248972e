"""What is worn and closed: loops for a belt, sheaths, flaps; a module a kind of part."""
