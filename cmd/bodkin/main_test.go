package main

import (
	"os"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) {
	if os.Getenv("BODKIN_TEST_RUN") != "" {
		main() // the test that started this process wants the program
	}
	testscript.Main(m, map[string]func(){"bodkin": main})
}

// The scripts are calls of the program and what a person sees of them.
func TestScripts(t *testing.T) {
	demo, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	testscript.Run(t, testscript.Params{
		Dir:           "testdata",
		UpdateScripts: os.Getenv("UPDATE") != "", // writes what commands print into the scripts
		Setup: func(e *testscript.Env) error {
			e.Setenv("DEMO", demo+"/../../testdata/tide-clerk")
			e.Setenv("SOURCE_DATE_EPOCH", "1000000000")
			return nil
		},
	})
}
