// Package schema holds the published JSON Schemas of the boat folder's yaml
// files, for editors that help while one writes. They are made from the
// reader's own tables of keys (go test ./internal/boatfolder -run TestSchemas -update).
package schema

import _ "embed"

// Boat is the schema of boat.yaml.
//
//go:embed boat.schema.json
var Boat []byte

// Needs is the schema of needs.yaml.
//
//go:embed needs.schema.json
var Needs []byte

// Trials is the schema of trials.yaml.
//
//go:embed trials.schema.json
var Trials []byte

// Voyage is the schema of voyage.yaml.
//
//go:embed voyage.schema.json
var Voyage []byte

// Whatif is the schema of whatif.yaml.
//
//go:embed whatif.schema.json
var Whatif []byte
