"""From what a maker carries to a project file: questions, answers, ways to carry it, the file."""
