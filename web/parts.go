package web

import (
	"encoding/json"
	"fmt"
	"net/http"

	"jetwright/desk"
)

// solids answers which parts can be looked at.
func (s *Server) solids(*http.Request) (reply, error) {
	p, _, err := s.book.Project()
	if err != nil {
		return reply{}, err
	}
	list, err := desk.Solids(p)
	if err != nil {
		return reply{}, err
	}
	type part struct {
		Name  string `json:"name"`
		Title string `json:"title"`
	}
	var out struct {
		Solids []part `json:"solids"`
	}
	for _, x := range list {
		out.Solids = append(out.Solids, part(x))
	}
	b, err := json.Marshal(out)
	return reply{body: b}, err
}

// solid answers a part as binary STL.
func (s *Server) solid(r *http.Request) (reply, error) {
	p, version, err := s.book.Project()
	if err != nil {
		return reply{}, err
	}
	name := r.PathValue("part")
	a, err := s.keep("solid").of(r.Context(), fmt.Sprint(version, " ", name), func() (any, error) { return desk.Solid(p, name) })
	if err != nil {
		return reply{}, err
	}
	return reply{body: a.([]byte), kind: "model/stl"}, nil
}

// export writes the files of the parts as they stand on the page.
func (s *Server) export(*http.Request) (reply, error) {
	a, err := s.book.Export()
	if err != nil {
		return reply{}, err
	}
	b, err := json.Marshal(map[string]string{"written": fmt.Sprintf("%d files are written to %s.", len(a.Files), a.Out)})
	return reply{body: b}, err
}
