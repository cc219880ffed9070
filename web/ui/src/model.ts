import {
  AmbientLight, BackSide, BufferGeometry, Color, DirectionalLight, DoubleSide, EdgesGeometry, Float32BufferAttribute, FrontSide, Group, LineBasicMaterial, LineSegments, Mesh, MeshBasicMaterial, MeshLambertMaterial,
  OrthographicCamera, Plane, Scene, Vector3, WebGLRenderer,
} from "three";
import { OrbitControls } from "three/addons/controls/OrbitControls.js";
import { STLLoader } from "three/addons/loaders/STLLoader.js";
import { toCreasedNormals } from "three/addons/utils/BufferGeometryUtils.js";

// Colours of a model, as the page has them.
export interface Colours { ground: string; body: string; line: string; cut: string; outline: string }

const crease = (32 * Math.PI) / 180;

// Model shows one body: lit from over the shoulder, its edges drawn, cut open where asked with the outline of the cut.
// It draws when something has changed, never by itself.
export class Model {
  private readonly renderer: WebGLRenderer;
  private readonly scene = new Scene();
  private readonly camera = new OrthographicCamera();
  private readonly controls: OrbitControls;
  private readonly lamp = new DirectionalLight(0xffffff, 1.9);
  private readonly outside = new MeshLambertMaterial({ side: FrontSide });
  private readonly inside = new MeshBasicMaterial({ side: BackSide }); // what a cut lays open is seen from behind, in one flat colour
  private readonly edge = new LineBasicMaterial();
  private readonly outline = new LineBasicMaterial({ linewidth: 2 });
  private readonly plane = new Plane(new Vector3(0, 0, -1), 0);
  private body = new Group();
  private rim: LineSegments | null = null;
  private radius = 1;
  private wide = 0;
  private along = true; // the cut runs along the axis, which is z, or across it
  private waiting = false;

  // It throws where the browser has no WebGL.
  constructor(private readonly canvas: HTMLCanvasElement) {
    this.renderer = new WebGLRenderer({ canvas, antialias: true, preserveDrawingBuffer: true });
    this.renderer.setPixelRatio(devicePixelRatio);
    this.camera.add(this.lamp);
    this.lamp.position.set(-0.5, 0.8, 1);
    this.scene.add(new AmbientLight(0xffffff, 1.35), this.camera, this.body);
    this.controls = new OrbitControls(this.camera, canvas);
    this.controls.enablePan = false;
    this.controls.enableZoom = false; // the wheel scrolls the page
    this.controls.addEventListener("change", () => this.draw());
    this.home();
  }

  paint(c: Colours): void {
    this.scene.background = new Color(c.ground);
    this.outside.color.set(c.body);
    this.edge.color.set(c.line);
    this.inside.color.set(c.cut);
    this.outline.color.set(c.outline);
    this.draw();
  }

  // show takes a binary STL in the place of what was shown; the view stays, unless there was none.
  show(stl: ArrayBuffer): void {
    const flat = new STLLoader().parse(stl);
    flat.computeBoundingBox();
    const middle = flat.boundingBox?.getCenter(new Vector3()) ?? new Vector3();
    flat.translate(0, 0, -middle.z); // the axis stays where it is
    flat.computeBoundingBox();
    flat.computeBoundingSphere();
    const first = this.body.children.length === 0;
    this.radius = flat.boundingSphere?.radius ?? 1;
    this.clear();
    const smooth = toCreasedNormals(flat, crease);
    this.body.add(new Mesh(smooth, this.outside), new Mesh(smooth, this.inside), new LineSegments(new EdgesGeometry(flat, 32), this.edge));
    this.body.userData.flat = flat;
    if (first) this.home();
    this.size();
    this.cut(this.wide, this.along);
  }

  private clear(): void {
    for (const k of this.body.children) (k as Mesh).geometry.dispose();
    (this.body.userData.flat as BufferGeometry | undefined)?.dispose();
    this.body.clear();
    this.rim = null;
  }

  // home looks from the jet's side, where the bore is, a little from above.
  home(): void {
    this.camera.zoom = 1;
    this.camera.position.set(0.78, 0.45, 0.8).normalize().multiplyScalar(10 * this.radius);
    this.camera.up.set(0, 1, 0);
    this.controls.target.set(0, 0, 0);
    this.size();
    this.controls.update();
    this.draw();
  }

  size(): void {
    const w = this.canvas.clientWidth;
    const h = this.canvas.clientHeight;
    if (w === 0 || h === 0) return;
    this.renderer.setSize(w, h, false);
    const k = (1.08 * this.radius) / Math.min(w, h);
    this.camera.left = -w * k;
    this.camera.right = w * k;
    this.camera.top = h * k;
    this.camera.bottom = -h * k;
    this.camera.near = 0.1 * this.radius;
    this.camera.far = 20 * this.radius;
    this.camera.updateProjectionMatrix();
    this.draw();
  }

  // turn turns the body by angles about the upright and the level.
  turn(level: number, upright: number): void {
    const p = this.camera.position;
    const r = p.length();
    const high = Math.max(-1.5, Math.min(1.5, Math.asin(p.y / r) + upright));
    const round = Math.atan2(p.x, p.z) + level;
    p.set(r * Math.cos(high) * Math.sin(round), r * Math.sin(high), r * Math.cos(high) * Math.cos(round));
    this.controls.update();
    this.draw();
  }

  zoom(by: number): void {
    this.camera.zoom = Math.max(0.5, Math.min(12, this.camera.zoom * by));
    this.camera.updateProjectionMatrix();
    this.draw();
  }

  // cut takes away what lies this side of a plane; share runs from 0, nothing, to 1, all.
  cut(share: number, along: boolean): void {
    this.wide = share;
    this.along = along;
    const on = share > 0;
    const flat = this.body.userData.flat as BufferGeometry | undefined;
    const k = along ? 0 : 2;
    const reach = flat?.boundingBox ? Math.abs(flat.boundingBox.max.getComponent(k)) : this.radius;
    this.plane.normal.set(along ? -1 : 0, 0, along ? 0 : -1);
    this.plane.constant = reach * (1 - 2 * share);
    const planes = on ? [this.plane] : [];
    this.renderer.localClippingEnabled = on;
    for (const m of [this.outside, this.inside, this.edge]) {
      m.clippingPlanes = planes;
      m.needsUpdate = true;
    }
    this.inside.visible = on;
    this.outside.side = on ? FrontSide : DoubleSide;
    if (this.rim) {
      this.rim.geometry.dispose();
      this.body.remove(this.rim);
      this.rim = null;
    }
    if (on && flat) {
      this.rim = new LineSegments(rimOf(flat, k, this.plane.constant), this.outline);
      this.rim.position.setComponent(k, 0.003 * this.radius); // before what it goes round
      this.body.add(this.rim);
    }
    this.draw();
  }

  draw(): void {
    if (this.waiting) return;
    this.waiting = true;
    requestAnimationFrame(() => {
      this.waiting = false;
      this.renderer.render(this.scene, this.camera);
    });
  }

  close(): void {
    this.clear();
    this.controls.dispose();
    this.renderer.dispose();
    this.renderer.forceContextLoss();
  }
}

// rimOf is where the surface meets the plane on which one coordinate, 0 for x to 2 for z, has a value.
function rimOf(g: BufferGeometry, k: number, at: number): BufferGeometry {
  const p = g.getAttribute("position").array;
  const out: number[] = [];
  for (let i = 0; i + 8 < p.length; i += 9) {
    const from = out.length;
    for (const [a, b] of [[0, 3], [3, 6], [6, 0]] as const) {
      const [u, v] = [(p[i + a + k] ?? 0) - at, (p[i + b + k] ?? 0) - at];
      if (u < 0 === v < 0) continue;
      for (let c = 0; c < 3; c++) {
        const [x, y] = [p[i + a + c] ?? 0, p[i + b + c] ?? 0];
        out.push(x + (u / (u - v)) * (y - x));
      }
    }
    if (out.length - from !== 6) out.length = from;
  }
  const r = new BufferGeometry();
  r.setAttribute("position", new Float32BufferAttribute(out, 3));
  return r;
}
