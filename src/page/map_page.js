/* The page's own script. All words of the plan are set as text, none as markup.
 * What stands, is live and is open on a day, and where the flock is, comes from
 * the plan's replay as what changes from evening to evening. */
(function () {
  'use strict';

  var plan = JSON.parse(document.getElementById('plan').textContent);
  var parts = 1e8; /* of a degree, in which places are told */

  function by(id) { return document.getElementById(id); }

  function make(tag, words, name) {
    var element = document.createElement(tag);
    if (words !== undefined) element.textContent = words;
    if (name) element.className = name;
    return element;
  }

  function empty(element) {
    while (element.firstChild) element.removeChild(element.firstChild);
  }

  /* ---- the days ---- */

  var tracks = ['stands', 'live', 'grazed', 'flock', 'open'];

  /* What is so on the evening of that day: of each track its places. */
  function evening(day) {
    var now = {};
    tracks.forEach(function (track) {
      var set = new Set();
      for (var i = 0; i <= day; i++) {
        var change = plan.days[i][track];
        if (!change) continue;
        change[1].forEach(function (place) { set.delete(place); });
        change[0].forEach(function (place) { set.add(place); });
      }
      now[track] = set;
    });
    return now;
  }

  function movesOn(day) {
    return plan.moves.filter(function (move) { return move.day === day; });
  }

  function nextMove(day) {
    return plan.moves.filter(function (move) { return move.day > day; })[0];
  }

  /* ---- the ground ---- */

  function placeAt(field, east, north) {
    var from = plan.fields[field].from;
    return L.latLng(from[1] + north / parts, from[0] + east / parts);
  }

  plan.fields.forEach(function (field, index) {
    field.at = [];
    for (var i = 0; i < field.points.length; i += 2)
      field.at.push(placeAt(index, field.points[i], field.points[i + 1]));
  });

  function line(field, points) {
    return points.map(function (point) { return plan.fields[field].at[point]; });
  }

  function rings(thing) {
    return thing.rings.map(function (piece) {
      return piece.map(function (ring) { return line(thing.field, ring); });
    });
  }

  var map = L.map('map', {
    attributionControl: false, zoomSnap: 0.25, zoomDelta: 1, maxZoom: 24, minZoom: 2,
    wheelPxPerZoomLevel: 120, boxZoom: true, zoomControl: false,
    fadeAnimation: false, zoomAnimation: false, markerZoomAnimation: false
  });
  L.control.zoom({ zoomInTitle: 'Nearer', zoomOutTitle: 'Farther' }).addTo(map);
  L.control.scale({ metric: !plan.us, imperial: plan.us, maxWidth: 140 }).addTo(map);
  var north = L.control({ position: 'topright' });
  north.onAdd = function () { return make('div', '\u2191 north', 'north'); };
  north.addTo(map);

  ['cells', 'edges', 'lines', 'posts'].forEach(function (name, index) {
    map.createPane(name).style.zIndex = 400 + 10 * index;
  });
  var drawers = {};
  ['cells', 'edges', 'lines', 'posts'].forEach(function (name) {
    drawers[name] = L.svg({ pane: name, padding: 0.5 });
  });

  /* Styles are those of the sheet, by class: Leaflet only makes the path. */
  function bare(pane, name, more) {
    return Object.assign({ pane: pane, renderer: drawers[pane], className: name,
      interactive: true, bubblingMouseEvents: false, smoothFactor: 0.5 }, more);
  }

  /* What a path of ours was drawn with would outweigh no class: all of these
   * are attributes. */
  function classes(path, name, of) {
    var element = path.getElement();
    if (element) {
      element.setAttribute('class', name + (path.options.interactive ? ' leaflet-interactive' : ''));
      if (of) element.dataset.of = of;
    }
    path.options.className = name;
  }

  var groups = { labels: L.layerGroup(), signs: L.layerGroup(), posts: L.layerGroup(),
    corners: L.layerGroup(), waiting: L.layerGroup() };

  var cellPaths = plan.cells.map(function (cell, index) {
    var path = L.polygon(rings(cell), bare('cells', 'cell')).addTo(map);
    path.on('click', function () { tell('cell', index); });
    return path;
  });

  plan.fields.forEach(function (field) {
    field.rings.forEach(function (piece) {
      piece.slice(1).forEach(function (ring) {
        L.polygon(ring.map(function (point) { return field.at[point]; }),
          bare('cells', 'hole', { interactive: false })).addTo(map);
      });
    });
  });

  var fencePaths = plan.fences.map(function (fence, index) {
    var at = line(fence.field, fence.line);
    var edge = fence.role === 'perimeter';
    var pane = edge ? 'edges' : 'lines';
    var of = {
      path: L.polyline(at, bare(pane, edge ? 'edge' : 'fence', { interactive: false })),
      core: edge ? L.polyline(at, bare(pane, 'edge-core', { interactive: false })) : null,
      touch: L.polyline(at, bare(pane, 'touch'))
    };
    of.touch.on('click', function () { tell('fence', index); });
    if (edge) { of.path.addTo(map); of.core.addTo(map); of.touch.addTo(map); }
    return of;
  });

  /* ---- signs ---- */

  /* Those of the sheet. */
  var signs = {
    gate: 'M3 3H19V19H3ZM3 3L19 19M19 3L3 19',
    water: 'M11 1C15 7 18 11 18 14.5A7 7 0 0 1 4 14.5C4 11 7 7 11 1Z',
    energizer: 'M13 1L4 12H10L8 21L18 9H12Z',
    park: 'M3 3H19V19H3Z',
    danger: 'M11 0L22 11L11 22L0 11ZM11 5V12.5M11 15V17.5'
  };
  var signSize = 22;

  function drawing(wide, high, shapes) {
    var space = 'http://www.w3.org/2000/svg', svg = document.createElementNS(space, 'svg');
    svg.setAttribute('width', wide);
    svg.setAttribute('height', high);
    svg.setAttribute('viewBox', '0 0 ' + wide + ' ' + high);
    svg.setAttribute('aria-hidden', 'true');
    shapes.forEach(function (shape) {
      var path = document.createElementNS(space, 'path');
      path.setAttribute('class', shape[0]);
      path.setAttribute('d', shape[1]);
      svg.appendChild(path);
    });
    return svg;
  }

  function sign(kind, at, click) {
    return L.marker(at, { icon: L.divIcon({ className: 'sign-at', iconSize: [26, 26],
      html: drawing(signSize, signSize, [['sign ' + kind, signs[kind]]]) }),
      keyboard: false, bubblingMouseEvents: false }).on('click', click);
  }

  var places = plan.places.map(function (place, index) {
    var at = placeAt(place.field, place.at[0], place.at[1]);
    function click() { tell('place', index); }
    if (place.kind === 'opening')
      return L.circleMarker(at, bare('posts', 'gap', { radius: 7 })).on('click', click);
    return sign(place.kind, at, click);
  });

  plan.fields.forEach(function (field) {
    field.corners.forEach(function (corner) {
      L.marker(field.at[corner[1]], { icon: L.divIcon({ html: make('div', String(corner[0]), 'name small'),
        className: 'name-at', iconSize: [24, 18], iconAnchor: [12, 20] }),
        interactive: false, keyboard: false }).addTo(groups.corners);
    });
  });

  /* ---- names of paddocks: where there is room, those of the day first ---- */

  function inRing(ring, x, y) {
    var inside = false;
    for (var i = 0, k = ring.length - 1; i < ring.length; k = i++)
      if ((ring[i].y > y) !== (ring[k].y > y) &&
          x < (ring[k].x - ring[i].x) * (y - ring[i].y) / (ring[k].y - ring[i].y) + ring[i].x)
        inside = !inside;
    return inside;
  }

  function toSide(ring, x, y) {
    var best = Infinity;
    for (var i = 0, k = ring.length - 1; i < ring.length; k = i++) {
      var dx = ring[i].x - ring[k].x, dy = ring[i].y - ring[k].y;
      var square = dx * dx + dy * dy;
      var t = square > 0 ? Math.max(0, Math.min(1, ((x - ring[k].x) * dx + (y - ring[k].y) * dy) / square)) : 0;
      best = Math.min(best, L.point(x, y).distanceTo([ring[k].x + t * dx, ring[k].y + t * dy]));
    }
    return best;
  }

  /* A place well inside the greatest piece, found once, on a coarse net and
   * again round its best. */
  function middle(cell) {
    var ring = null, most = -1;
    cell.rings.forEach(function (piece) {
      var at = line(cell.field, piece[0]).map(function (point) { return map.project(point, 20); });
      var area = 0;
      for (var i = 0, k = at.length - 1; i < at.length; k = i++)
        area += at[k].x * at[i].y - at[i].x * at[k].y;
      if (Math.abs(area) > most) { most = Math.abs(area); ring = at; }
    });
    var box = L.bounds(ring), best = { room: -1, at: box.getCenter() };
    for (var round = 0; round < 2; round++) {
      var size = box.getSize(), steps = 11;
      for (var i = 0; i < steps; i++)
        for (var k = 0; k < steps; k++) {
          var x = box.min.x + size.x * (i + 0.5) / steps, y = box.min.y + size.y * (k + 0.5) / steps;
          if (!inRing(ring, x, y)) continue;
          var room = toSide(ring, x, y);
          if (room > best.room) best = { room: room, at: L.point(x, y) };
        }
      box = L.bounds(best.at.subtract(size.divideBy(steps)), best.at.add(size.divideBy(steps)));
    }
    return { at: map.unproject(best.at, 20), room: best.room };
  }

  var middles = plan.cells.map(function () { return null; });

  function nameCells(now) {
    var scale = Math.pow(2, map.getZoom() - 20), half = signSize / 2 - 2;
    var taken = places.filter(function (marker) {
      return groups.signs.hasLayer(marker) && map.hasLayer(groups.signs);
    }).map(function (marker) {
      var at = map.latLngToLayerPoint(marker.getLatLng());
      return L.bounds(at.subtract([half, half]), at.add([half, half]));
    });
    groups.labels.clearLayers();
    function wish(index) {
      return now.flock.has(index) ? 0 : index === now.next ? 1 : now.grazed.has(index) ? 3 : 2;
    }
    plan.cells.map(function (cell, index) { return index; })
      .sort(function (a, b) { return wish(a) - wish(b) || a - b; })
      .forEach(function (index) {
        var cell = plan.cells[index];
        if (!cell.rings.length) return;
        var words = (now.flock.has(index) ? 'flock ' : index === now.next ? 'next ' : '') + cell.id;
        var of = middles[index] || (middles[index] = middle(cell));
        var width = 8.6 * words.length + 8, at = map.latLngToLayerPoint(of.at);
        if (wish(index) > 1 && of.room * scale < 9) return;
        /* Aside of a sign, and never on another name but that of the day. */
        var box = null;
        [[0, 0], [0, -18], [0, 18], [width / 2 + 12, 0], [-width / 2 - 12, 0]].some(function (by) {
          var off = at.add(by);
          if (wish(index) > 1 && by[0] + by[1] !== 0 && of.room * scale < 26) return false;
          box = L.bounds(off.subtract([width / 2, 9]), off.add([width / 2, 9]));
          if (taken.some(function (other) { return other.intersects(box); })) box = null;
          return box;
        });
        if (!box && wish(index) > 0) return;
        box = box || L.bounds(at.subtract([width / 2, 9]), at.add([width / 2, 9]));
        taken.push(box);
        L.marker(map.layerPointToLatLng(box.getCenter()), { icon: L.divIcon({ html: make('div', words, 'name'), className: 'name-at',
          iconSize: [width, 20] }), interactive: false, keyboard: false }).addTo(groups.labels);
      });
  }

  /* ---- a day is shown ---- */

  var day = 0, now = null, chosen = null;

  function show(layer, on) {
    if (on && !map.hasLayer(layer)) layer.addTo(map);
    if (!on && map.hasLayer(layer)) layer.remove();
  }

  function names(set, of) {
    return Array.from(set).sort(function (a, b) { return a - b; })
      .map(function (index) { return of[index].id; });
  }

  /* "A03, A04 and 5 more" */
  function list(words, most) {
    return words.slice(0, most).join(', ') +
      (words.length > most ? ' and ' + (words.length - most) + ' more' : '');
  }

  function isChosen(kind, index) {
    return chosen && chosen.kind === kind && chosen.index === index ? ' chosen' : '';
  }

  function drawCells() {
    cellPaths.forEach(function (path, index) {
      classes(path, 'cell' + (plan.cells[index].lane ? ' lane' : '') +
        (now.flock.has(index) ? ' flock' : index === now.next ? ' next'
          : now.grazed.has(index) ? ' grazed' : '') + isChosen('cell', index), plan.cells[index].id);
    });
  }

  function drawFences() {
    fencePaths.forEach(function (of, index) {
      var edge = plan.fences[index].role === 'perimeter';
      var down = now.down.has(index) && !now.stands.has(index);
      var seen = edge || now.stands.has(index) || down || isChosen('fence', index) !== '';
      show(of.path, seen);
      show(of.touch, seen);
      if (!seen) return;
      if (of.core) classes(of.core, 'edge-core' + (now.live.has(index) ? ' live' : ''));
      classes(of.path, edge ? 'edge' + isChosen('fence', index)
        : 'fence' + (down ? ' down' : now.live.has(index) ? '' : ' dead') +
          (now.set.has(index) ? ' set' : '') + isChosen('fence', index), plan.fences[index].id);
      classes(of.touch, 'touch');
    });
  }

  function drawPlaces() {
    places.forEach(function (marker, index) {
      var place = plan.places[index];
      var on = place.kind === 'opening' ? now.open.has(place.gate) || isChosen('place', index) !== ''
        : place.kind === 'water' && place.days ? day >= place.days[0] && day < place.days[1]
          : true;
      var group = place.kind === 'opening' ? map : groups.signs;
      if (on && !group.hasLayer(marker)) group.addLayer(marker);
      if (!on && group.hasLayer(marker)) group.removeLayer(marker);
    });
  }

  function sayLines() {
    var standing = names(now.stands, plan.fences);
    var dead = Array.from(now.stands).filter(function (index) { return !now.live.has(index); })
      .sort(function (a, b) { return a - b; }).map(function (index) { return plan.fences[index].id; });
    by('lines').textContent = (standing.length ? 'Stands in the evening: ' + list(standing, 12) + '. '
      : 'No line stands in the evening. ') +
      (!standing.length ? '' : dead.length ? 'Not live: ' + list(dead, 12) + '.' : 'All of them are live.');
  }

  function sayMoves() {
    var moves = movesOn(day), box = by('moves');
    empty(box);
    if (!moves.length) box.appendChild(make('p', 'No move on this day.'));
    moves.forEach(function (move) {
      box.appendChild(make('h3', move.title));
      box.appendChild(make('p', 'About ' + move.minutes + ' minutes. To carry: ' + move.carried + '.'));
      var steps = make('ol');
      move.steps.forEach(function (step) { steps.appendChild(make('li', step)); });
      box.appendChild(steps);
    });
  }

  /* The fields in which the flock is, or will be. */
  function fieldsOfDay() {
    var of = new Set(), bounds = L.latLngBounds([]);
    now.flock.forEach(function (index) { of.add(plan.cells[index].field); });
    if (!of.size && now.next >= 0) of.add(plan.cells[now.next].field);
    of.forEach(function (field) {
      plan.fields[field].at.forEach(function (at) { bounds.extend(at); });
    });
    return bounds;
  }

  function keepInView() {
    var flock = L.latLngBounds([]);
    now.flock.forEach(function (index) { flock.extend(cellPaths[index].getBounds()); });
    if (flock.isValid() && !map.getBounds().intersects(flock))
      map.fitBounds(fieldsOfDay(), { padding: [24, 24], animate: false });
  }

  function showDay(wanted) {
    day = Math.max(0, Math.min(plan.days.length - 1, wanted));
    now = evening(day);
    now.set = new Set();
    now.down = new Set();
    movesOn(day).forEach(function (move) {
      move.set.forEach(function (fence) { now.set.add(fence); });
      move.down.forEach(function (fence) { now.down.add(fence); });
    });
    var next = nextMove(day);
    now.next = next && next.to !== undefined && !now.flock.has(next.to) ? next.to : -1;
    drawCells();
    drawFences();
    drawPlaces();
    keepInView();
    nameCells(now);
    var flock = names(now.flock, plan.cells), words = plan.days[day].words;
    by('day').textContent = words;
    by('slider').value = day;
    by('slider').setAttribute('aria-valuetext', words);
    by('earlier').disabled = day === 0;
    by('later').disabled = day === plan.days.length - 1;
    by('flock').textContent = flock.length ? 'In the evening the flock has ' + list(flock, 8) + '.'
      : 'In the evening the flock is outside.';
    sayLines();
    sayMoves();
    showPosts();
    askOfDay();
    writeLine();
  }

  /* ---- figures ---- */

  function figuresOf(kind, index) {
    return kind === 'cell' ? plan.cells[index] : kind === 'fence' ? plan.fences[index] : plan.places[index];
  }

  function tell(kind, index) {
    var of = figuresOf(kind, index), box = by('figures-list');
    chosen = { kind: kind, index: index };
    by('figures-title').textContent = of.id;
    empty(box);
    of.figures.forEach(function (figure) {
      box.appendChild(make('dt', plan.heads[figure[0]]));
      box.appendChild(make('dd', figure[1]));
    });
    by('figures').hidden = false;
    /* Never over what it tells of. */
    var middle = map.latLngToContainerPoint(boundsOf(kind, index).getCenter());
    by('figures').className = middle.y > map.getSize().y / 2 ? 'above' : '';
    by('find').value = kind + ' ' + index;
    drawCells();
    drawFences();
    drawPlaces();
  }

  function closeFigures() {
    chosen = null;
    by('figures').hidden = true;
    by('find').value = '';
    drawCells();
    drawFences();
    drawPlaces();
  }

  function boundsOf(kind, index) {
    return kind === 'cell' ? cellPaths[index].getBounds()
      : kind === 'fence' ? fencePaths[index].path.getBounds()
        : L.latLngBounds([places[index].getLatLng()]);
  }

  function fillFind() {
    var find = by('find');
    find.appendChild(make('option', 'nothing'));
    find.firstChild.value = '';
    [['Paddocks', 'cell', plan.cells], ['Fences', 'fence', plan.fences],
      ['Places', 'place', plan.places]].forEach(function (group) {
      var box = make('optgroup');
      box.label = group[0];
      group[2].forEach(function (thing, index) {
        var option = make('option', (thing.kind && thing.kind !== thing.id ? thing.kind + ' ' : '') + thing.id);
        option.value = group[1] + ' ' + index;
        box.appendChild(option);
      });
      if (group[2].length) find.appendChild(box);
    });
    find.addEventListener('change', function () {
      var words = find.value.split(' ');
      if (!find.value) { closeFigures(); return; }
      tell(words[0], Number(words[1]));
      var bounds = boundsOf(words[0], Number(words[1]));
      if (!map.getBounds().contains(bounds)) map.fitBounds(bounds.pad(0.5), { maxZoom: map.getZoom(), animate: false });
    });
  }

  /* ---- layers ---- */

  var layers = [
    ['Names of paddocks', groups.labels, true],
    ['Signs: gates, water, energizer, dangers', groups.signs, true],
    ['Corners by number', groups.corners, true],
    ['Posts of lines that stand', groups.posts, false]
  ];
  if (plan.tiles) {
    layers.push(['Map below, from ' + plan.tiles.split('/')[2],
      L.tileLayer(plan.tiles, { maxNativeZoom: 19, maxZoom: 24, opacity: 0.8 }), true]);
    by('but').textContent = ' but the map below, from the address that was told when the plan was written';
  }

  function showPosts() {
    if (!map.hasLayer(groups.posts)) return;
    groups.posts.clearLayers();
    now.stands.forEach(function (index) {
      var fence = plan.fences[index], field = fence.field;
      for (var i = 0; i < (fence.posts || []).length; i += 2)
        L.circleMarker(placeAt(field, fence.posts[i], fence.posts[i + 1]),
          bare('posts', 'post', { radius: 3, interactive: false })).addTo(groups.posts);
    });
  }

  function fillLayers() {
    layers.forEach(function (layer, index) {
      var label = make('label'), box = make('input');
      box.type = 'checkbox';
      box.id = 'layer-' + index;
      box.checked = layer[2];
      label.appendChild(box);
      label.appendChild(document.createTextNode(layer[0]));
      by('layers').appendChild(label);
      show(layer[1], layer[2]);
      box.addEventListener('change', function () {
        show(layer[1], box.checked);
        showPosts();
      });
    });
  }

  /* ---- signs and what they mean ---- */

  function sample(names, words, area) {
    var item = make('li');
    item.appendChild(drawing(36, 16, names.map(function (name) {
      return [name, area ? 'M2 2H34V14H2Z' : 'M2 8H34'];
    })));
    item.appendChild(document.createTextNode(words));
    by('legend').appendChild(item);
  }

  function fillLegend() {
    sample(['cell flock'], 'the flock', true);
    sample(['cell next'], 'next', true);
    sample(['cell grazed'], 'grazed', true);
    sample(['edge', 'edge-core'], 'boundary');
    sample(['edge', 'edge-core live'], 'boundary, live');
    sample(['fence set'], 'set on this day');
    sample(['fence'], 'stands, live');
    sample(['fence dead'], 'stands, not live');
    sample(['fence down'], 'taken down on this day');
    Object.keys(signs).forEach(function (kind) {
      if (!plan.places.some(function (place) { return place.kind === kind; })) return;
      var item = make('li');
      item.appendChild(drawing(signSize, signSize, [['sign ' + kind, signs[kind]]]));
      item.appendChild(document.createTextNode(kind === 'park' ? 'vehicle' : kind));
      by('legend').appendChild(item);
    });
    by('signs').open = window.matchMedia('(min-width: 900px)').matches;
  }

  /* ---- where I am ---- */

  var me = null;

  function whereAmI() {
    var says = by('here-says');
    if (!navigator.geolocation) {
      says.textContent = 'This browser does not tell where it is.';
      return;
    }
    says.textContent = 'Looking for this place\u2026';
    navigator.geolocation.getCurrentPosition(function (found) {
      var at = L.latLng(found.coords.latitude, found.coords.longitude);
      var off = found.coords.accuracy;
      if (me) me.remove();
      me = L.layerGroup([L.circle(at, bare('posts', 'me-round', { radius: off, interactive: false })),
        L.circleMarker(at, bare('posts', 'me', { radius: 8, interactive: false }))]).addTo(map);
      var near = map.getBounds().pad(1).contains(at);
      says.textContent = (near ? 'You are at the dot, ' : 'You are far from these fields, ') + 'within ' +
        (plan.us ? Math.round(off / 0.3048) + ' ft' : Math.round(off) + ' m') + '.';
      if (near) map.panInside(at, { padding: [40, 40], animate: false });
    }, function (error) {
      says.textContent = error.code === 1 ? 'This browser may not tell where it is: allow it for this page, and tap again.'
        : 'No place was found: ' + error.message + '. Step out under the sky, and tap again.';
    }, { enableHighAccuracy: true, timeout: 30000, maximumAge: 5000 });
  }

  /* ---- the line of a day ---- */

  function choices(box, name, words) {
    words.forEach(function (word, index) {
      var label = make('label'), radio = make('input');
      radio.type = 'radio';
      radio.name = name;
      radio.value = index ? word : '';
      radio.checked = index === 0;
      label.appendChild(radio);
      label.appendChild(document.createTextNode(word));
      box.appendChild(label);
    });
  }

  function numbers(from, to, step, decimals, unit) {
    var words = [];
    for (var i = 0; from + i * step <= to + step / 2; i++)
      words.push((from + i * step).toFixed(decimals) + unit);
    return words;
  }

  function fillForm() {
    var left = plan.record.left;
    choices(by('left'), 'left', ['not looked at'].concat(
      left === 'dormant' ? ['clean', 'some', 'third', 'half']
        : left === 'words' ? ['short', 'right', 'long']
          : plan.us ? numbers(1, 6, 0.5, 1, 'in') : numbers(2, 14, 1, 0, 'cm')));
    choices(by('bellies'), 'bellies', ['not looked at', 'full', 'hollow']);
    choices(by('weather'), 'weather', ['ordinary', 'wet', 'frost', 'heat']);
    ['not read'].concat(numbers(1, 10, 0.5, 1, 'kV')).forEach(function (word, index) {
      var option = make('option', word);
      option.value = index ? word : '';
      by('volts').appendChild(option);
    });
  }

  function quoted(words) {
    return /^[\w.,:\/@+-]+$/.test(words) ? words : "'" + words.replace(/'/g, "'\\''") + "'";
  }

  function picked(name) {
    var one = document.querySelector('input[name="' + name + '"]:checked');
    return one ? one.value : '';
  }

  /* What they left is said of a paddock that they come from. */
  function askOfDay() {
    var comes = movesOn(day).some(function (move) { return move.from !== undefined; });
    by('left').disabled = by('bellies').disabled = !comes;
    by('no-move').hidden = comes;
  }

  function writeLine() {
    var moves = movesOn(day), words = ['foldwright', 'record', quoted(plan.record.of), '--date', plan.days[day].date];
    ['left', 'bellies'].forEach(function (name) {
      if (picked(name) && !by(name).disabled) words.push('--' + name, picked(name));
    });
    if (by('volts').value) {
      var read = moves.length ? moves[moves.length - 1].read : undefined;
      words.push('--open-v', by('volts').value + (read === undefined ? '' : '@' + quoted(plan.fences[read].id)));
    }
    if (/^[1-9]\d{0,5}$/.test(by('head').value)) words.push('--head', by('head').value);
    var flock = by('flock-now').value.replace(/[\u0000-\u001f;]/g, ' ').trim();
    if (flock) words.push('--flock', quoted(flock));
    if (picked('weather')) words.push('--weather', picked('weather'));
    var note = by('note').value.replace(/[\u0000-\u001f]/g, ' ').trim();
    if (note) words.push('--note', quoted(note));
    by('line').value = words.join(' ');
    by('copied').textContent = '';
  }

  function copyLine() {
    var box = by('line'), says = by('copied');
    function done() { says.textContent = 'Copied.'; }
    function byHand() {
      box.focus();
      box.select();
      var went = false;
      try { went = document.execCommand('copy'); } catch (error) { went = false; }
      says.textContent = went ? 'Copied.' : 'Copy it by hand: it is marked.';
    }
    if (navigator.clipboard && navigator.clipboard.writeText)
      navigator.clipboard.writeText(box.value).then(done, byHand);
    else byHand();
  }

  /* ---- put together ---- */

  function whole() {
    var bounds = L.latLngBounds([]);
    plan.fields.forEach(function (field) { field.at.forEach(function (at) { bounds.extend(at); }); });
    if (bounds.isValid()) map.fitBounds(bounds, { padding: [24, 24], animate: false });
    else map.setView([0, 0], 2);
  }

  /* With its field, where the flock is not lost in it. */
  function toFlock() {
    var bounds = fieldsOfDay(), flock = L.latLngBounds([]), seen = 60;
    if (bounds.isValid()) map.fitBounds(bounds, { padding: [24, 24], animate: false }); else whole();
    now.flock.forEach(function (index) { flock.extend(cellPaths[index].getBounds()); });
    if (!flock.isValid()) return;
    var size = map.latLngToLayerPoint(flock.getNorthEast()).distanceTo(map.latLngToLayerPoint(flock.getSouthWest()));
    if (size < seen) map.fitBounds(flock.pad(1.5), { animate: false });
  }

  /* Today, if the plan has it; else its first day. */
  function firstDay() {
    var clock = new Date();
    var today = clock.getFullYear() + '-' + String(clock.getMonth() + 101).slice(1) + '-' +
      String(clock.getDate() + 100).slice(1);
    return Math.max(0, plan.days.findIndex(function (one) { return one.date === today; }));
  }

  by('farm').textContent = plan.farm;
  by('first').textContent = plan.first;
  by('dangers-text').textContent = plan.dangers.trim();
  by('dangers').hidden = !plan.dangers;
  by('dangers').open = true;
  by('slider').max = plan.days.length - 1;
  whole();
  fillFind();
  fillLegend();
  fillForm();
  now = evening(0);
  fillLayers();
  showDay(firstDay());
  toFlock();
  nameCells(now);

  by('slider').addEventListener('input', function () { showDay(Number(by('slider').value)); });
  by('earlier').addEventListener('click', function () { showDay(day - 1); });
  by('later').addEventListener('click', function () { showDay(day + 1); });
  by('close').addEventListener('click', closeFigures);
  by('whole').addEventListener('click', whole);
  by('home').addEventListener('click', toFlock);
  by('here').addEventListener('click', whereAmI);
  by('copy').addEventListener('click', copyLine);
  by('form').addEventListener('input', writeLine);
  by('form').addEventListener('submit', function (event) { event.preventDefault(); });
  map.on('zoomend', function () { nameCells(now); });
  map.on('click', closeFigures);
  document.addEventListener('keydown', function (event) {
    if (event.key === 'Escape') closeFigures();
  });
  window.addEventListener('beforeprint', function () {
    by('dangers').open = true;
    map.invalidateSize();
  });
})();
