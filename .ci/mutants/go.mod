module drillbay/mutants

go 1.26.0
