package main

import (
	"context"
	"os"
	"path/filepath"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){
		"smeltbook": func() {
			os.Exit(run(context.Background(), os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
		},
	})
}

// TestScripts runs whole calls of the program, as a user would type them.
func TestScripts(t *testing.T) {
	samples, err := filepath.Abs("../../samples")
	if err != nil {
		t.Fatal(err)
	}
	testdata, err := filepath.Abs("../../testdata")
	if err != nil {
		t.Fatal(err)
	}
	testscript.Run(t, testscript.Params{
		Dir:           "testdata/script",
		UpdateScripts: os.Getenv("UPDATE_SCRIPTS") != "",
		Setup: func(env *testscript.Env) error {
			env.Setenv("SAMPLES", samples)
			env.Setenv("TESTDATA", testdata)
			return nil
		},
	})
}
