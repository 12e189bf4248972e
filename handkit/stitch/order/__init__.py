"""What is done before what, and the steps at the bench."""
