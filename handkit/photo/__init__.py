"""From a photo: things that lie on the mat, as outlines at true size. An extra, which nothing else loads."""
