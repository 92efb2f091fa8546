"""What a person is told, in catalogues: a file a language, English complete, gaps filled with English and named."""
