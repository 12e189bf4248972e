"""Parts: what each kind of part stands for, and all of them written out as plain tables."""
