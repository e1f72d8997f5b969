"""The panel: labels checked, evidence weighed, opinions kept and counted, second looks, like cases, appeals."""
