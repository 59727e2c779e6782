"""Many manifests: finding them and judging them."""
