"""Beyond one machine: batches mapped over an existing engine, files wherever fsspec reaches; extra `cluster`."""
