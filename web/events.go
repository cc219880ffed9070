package web

import (
	"fmt"
	"net/http"
	"sync"
	"time"
)

// events tells every open page that something changed.
type events struct {
	mu    sync.Mutex
	pages map[chan string]bool
	ended bool
}

func newEvents() *events { return &events{pages: map[chan string]bool{}} }

func (e *events) open() chan string {
	e.mu.Lock()
	defer e.mu.Unlock()
	c := make(chan string, 1)
	if e.ended {
		close(c)
		return c
	}
	e.pages[c] = true
	return c
}

func (e *events) shut(c chan string) {
	e.mu.Lock()
	defer e.mu.Unlock()
	delete(e.pages, c)
}

// tell is heard by every page; one that has not listened yet to the last hears the newest.
func (e *events) tell(what string) {
	e.mu.Lock()
	defer e.mu.Unlock()
	for c := range e.pages {
		select {
		case c <- what:
		default:
			select {
			case <-c:
			default:
			}
			c <- what
		}
	}
}

func (e *events) close() {
	e.mu.Lock()
	defer e.mu.Unlock()
	e.ended = true
	for c := range e.pages {
		close(c)
		delete(e.pages, c)
	}
}

// watch sends a page the version of the book whenever it changes.
func (s *Server) watch(w http.ResponseWriter, r *http.Request) {
	c := s.events.open()
	defer s.events.shut(c)
	w.Header().Set("Content-Type", "text/event-stream")
	out := http.NewResponseController(w)
	if _, err := fmt.Fprintf(w, "data: %d\n\n", s.book.Page().Version); err != nil || out.Flush() != nil {
		return
	}
	beat := time.NewTicker(20 * time.Second)
	defer beat.Stop()
	for {
		select {
		case <-r.Context().Done():
			return
		case <-beat.C:
			if _, err := fmt.Fprint(w, ": still here\n\n"); err != nil || out.Flush() != nil {
				return
			}
		case what, ok := <-c:
			if !ok {
				return
			}
			if _, err := fmt.Fprintf(w, "data: %s\n\n", what); err != nil || out.Flush() != nil {
				return
			}
		}
	}
}

// lookEvery is how often the folder is looked at for changes by others.
const lookEvery = 300 * time.Millisecond

// look tells the pages of changes of the folder on disk.
func (s *Server) look(stop <-chan struct{}) {
	tick := time.NewTicker(lookEvery)
	defer tick.Stop()
	for {
		select {
		case <-stop:
			return
		case <-tick.C:
			if changed, _ := s.book.Look(); changed { // what is wrong stands on the book's page
				s.changed()
			}
		}
	}
}

func (s *Server) changed() { s.events.tell(fmt.Sprint(s.book.Page().Version)) }
