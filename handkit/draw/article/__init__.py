"""Pictures of the article put together."""
