package shop

import (
	"bytes"
	"compress/gzip"
	"encoding/gob"
	"errors"
	"fmt"
	"io"

	"batchwright/jigplan"
)

// Freeze is a plan as bytes that Thaw gives back exactly, for the shop file.
func Freeze(p *jigplan.Plan) ([]byte, error) {
	var out bytes.Buffer
	zip := gzip.NewWriter(&out)
	if err := errors.Join(gob.NewEncoder(zip).Encode(p), zip.Close()); err != nil {
		return nil, fmt.Errorf("keep the plan: %w", err)
	}
	return out.Bytes(), nil
}

// Thaw reads a frozen plan. Fields that came later are empty.
func Thaw(data []byte) (*jigplan.Plan, error) {
	zip, err := gzip.NewReader(bytes.NewReader(data))
	if err != nil {
		return nil, fmt.Errorf("read the kept plan: %w", err)
	}
	var p jigplan.Plan
	err = gob.NewDecoder(zip).Decode(&p)
	if err == nil {
		_, err = io.Copy(io.Discard, zip) // to the end, where its checksum stands
	}
	if err := errors.Join(err, zip.Close()); err != nil {
		return nil, fmt.Errorf("read the kept plan: %w", err)
	}
	return &p, nil
}
