// What a script may add to pages that work without it (docs/pages.md): scans from anywhere, answers while typing, changes of others, a
// network that goes away, and a word while something takes long. It holds no rule and makes no page of its own: it sends the page's own
// forms and shows the server's own answers. Loaded in the head, so that no key is lost while the rest of the page is still coming.
'use strict';
{
  // A scanner's keys: milliseconds between two on average and at the most, and how many at least.
  const SCAN_GAP = 60, SCAN_PAUSE = 250, SCAN_LEAST = 3;
  const LIVE_EVERY = 3000, RETRY_EVERY = 4000, AHEAD_AFTER = 120;

  const one = (selector, root = document) => root.querySelector(selector);
  const all = (selector, root = document) => [...root.querySelectorAll(selector)];
  const here = () => location.pathname + location.search;
  const read = (store, key) => { try { return JSON.parse(store.getItem(key)) ?? []; } catch { return []; } };
  const write = (store, key, value) => { try { store.setItem(key, JSON.stringify(value)); } catch { /* full or forbidden: not kept */ } };
  // Each of the shop's rooms keeps its own scans: what was meant for the counter is not scanned in the aisle.
  const scans = () => `scans-${location.pathname.split('/')[1]}`;
  const isTyped = element => !!element?.matches?.('input:not([type=checkbox],[type=radio],[type=submit]), textarea, select');
  const parse = html => new DOMParser().parseFromString(html, 'text/html');
  // Forms of the door are left to the browser: nothing in them is ever kept.
  const isSecret = form => !!one('[type=password], [autocomplete=one-time-code]', form) || /^\/(sign-|set-up|new-password|me\b)/.test(form.getAttribute('action'));
  const isGet = form => form.getAttribute('method')?.toLowerCase() !== 'post';

  // A polite line that outlives what is shown; each button is a label and what it does, or where it leads in another window.
  function say(text, ...buttons) {
    one('#said')?.replaceChildren(text, ...buttons.map(([label, act]) => {
      const made = document.createElement(typeof act === 'string' ? 'a' : 'button');
      Object.assign(made, { textContent: label, className: 'button' }, typeof act === 'string' ? { href: act, target: '_blank' } : { type: 'button', onclick: act });
      return made;
    }));
  }

  // --- A form is sent and its answer shown without leaving the page: no key and no scan can fall between two pages.
  let sending = null; // stops what is under way
  let typed = false; // something stands in a form that was not sent
  let shown = here();

  const letter = (form, submitter) => {
    const data = new FormData(form, submitter), files = form.enctype === 'multipart/form-data';
    return { method: isGet(form) ? 'get' : 'post', to: form.getAttribute('action') ?? here(), page: here(), body: files ? data : new URLSearchParams(data).toString() };
  };

  async function deliver(mail) {
    const get = mail.method === 'get';
    const response = await fetch(get ? `${mail.to}?${mail.body}` : mail.to, {
      method: mail.method, signal: sending.signal, body: get ? undefined : mail.body,
      headers: get || mail.body instanceof FormData ? {} : { 'Content-Type': 'application/x-www-form-urlencoded' },
    });
    // The shop itself is away: the same to whoever stands at the counter.
    if (response.status > 501) throw new TypeError('away');
    return response;
  }

  async function send(form, submitter, code) {
    if (sending) return;
    sending = new AbortController();
    const mail = letter(form, submitter), buttons = all('button', form);
    if (code) mail.body = new URLSearchParams([...new URLSearchParams(mail.body)].map(([name, value]) => [name, name === scanField().name ? code : value])).toString();
    buttons.forEach(button => button.disabled = true);
    const slow = submitter?.dataset.slow ?? form.dataset.slow;
    if (slow !== undefined) working(slow);
    let again = true;
    try {
      await take(await deliver(mail), mail, form);
    } catch (problem) {
      if (problem.name === 'AbortError') say('Stopped.');
      else if (mail.method === 'get' && code) write(sessionStorage, scans(), [code, ...read(sessionStorage, scans())]), away();
      else if (typeof mail.body !== 'string') say('The network is away. Nothing was done; send it again when it is back.');
      else write(localStorage, 'kept', [...read(localStorage, 'kept'), mail]), away();
      again = false;
    }
    sending = null;
    if (!read(localStorage, 'kept').length) buttons.forEach(button => button.disabled = false);
    if (again) next();
  }

  async function take(response, mail, form) {
    if (response.status === 401 || new URL(response.url).pathname === '/sign-in')
      return say('Nobody is signed in here any more. What was typed is still here.', ['Sign in in another window', '/sign-in']);
    if (response.status === 400) return renew(mail, form);
    if (response.status === 500) return say('Something went wrong in the program. What was typed is still here.');
    if (!response.headers.get('Content-Type')?.startsWith('text/html')) return location.assign(response.url);
    typed = false;
    show(await response.text(), mail.method === 'get' || response.redirected ? response.url : location.href, true);
  }

  // A form that grew old, or was made for somebody else: everything in it stays, and whoever is here now decides to send it again.
  async function renew(mail, form) {
    const token = one('form[method=post] input[name=form]', parse(await (await fetch(mail.page)).text()))?.value;
    if (!token) return say('This form is too old; nothing was done. Note down what was typed and load the page again.');
    all('input[name=form]').forEach(field => field.value = token);
    if (form?.isConnected) return say('This form had grown old; nothing was done. It is renewed, and what was typed is still here: send it again.');
    const body = new URLSearchParams(mail.body);
    body.set('form', token);
    say(`What was kept of ${mail.page} had grown old.`, ['Send it now, in my name', () => { write(localStorage, 'kept', [{ ...mail, body: body.toString() }]); sendKept(); }]);
  }

  function show(html, address, moved) {
    const fresh = parse(html), main = one('main', fresh), at = scrollY;
    const part = url => url.pathname + (url.searchParams.get('at') ?? '');
    const stays = part(new URL(address, location.href)) === part(new URL(location.href));
    if (!main) return location.assign(address);
    say('');
    if (isNew(scanField())) lost += scanField().value; // a scan that is just being typed
    document.title = fresh.title;
    // Within one document a browser takes a drawing that it has from memory; what it shows may have changed.
    all('img', main).forEach(image => image.src += `${image.src.includes('?') ? '&' : '?'}shown=${Date.now()}`);
    one('main').replaceWith(main);
    one('header.bar').replaceWith(one('header.bar', fresh));
    if (address !== location.href) history.pushState(null, '', address);
    shown = here();
    // What was refused is brought into sight; who did something within a page goes on where they were.
    const refused = one('main form [role=alert]');
    if (refused) refused.scrollIntoView({ block: 'center' });
    else if (moved) scrollTo(0, stays ? at : 0);
    sound(!!one('main [role=alert]'));
    ready();
    if (scanField()) return;
    lost = '';
    const start = one('main [autofocus]') ?? one('main h1');
    if (start && !isTyped(start)) start.tabIndex = -1;
    start?.focus({ preventScroll: true });
  }

  const reload = async () => { typed = false; show(await (await fetch(here())).text(), location.href, false); };

  addEventListener('popstate', () => { if (here() !== shown) reload().catch(() => location.reload()); });

  addEventListener('submit', event => {
    const form = event.target, field = scanField(), isScan = field?.form === form && field.value.trim();
    if (event.defaultPrevented || form.dataset.plain !== undefined || isSecret(form)) return;
    if (!isScan && isGet(form) && (event.submitter?.dataset.slow ?? form.dataset.slow) === undefined) return;
    event.preventDefault();
    if (isScan) scanned(emptied(field));
    else send(form, event.submitter);
  });

  // --- Long work says so and can be stopped: a form, the button that sends it, or a download with data-slow="what it says".
  const working = words => say(words || 'Working…', ['Stop', () => sending?.abort()]);

  addEventListener('click', async event => {
    const link = event.target.closest?.('a[data-slow]');
    if (!link || sending) return;
    event.preventDefault();
    sending = new AbortController();
    working(link.dataset.slow);
    try {
      const response = await deliver({ method: 'get', to: link.pathname, body: link.search.slice(1) });
      const name = /filename="?([^";]+)/.exec(response.headers.get('Content-Disposition'))?.[1] ?? link.pathname.split('/').pop();
      if (response.ok) Object.assign(document.createElement('a'), { href: URL.createObjectURL(await response.blob()), download: name }).click();
      say(response.ok ? 'Ready.' : await response.text());
    } catch (problem) {
      say(problem.name === 'AbortError' ? 'Stopped.' : 'The network is away. Try again when it is back.');
    }
    sending = null;
  });

  // --- The network goes away: what was sent is kept and sent again, under the same request id, until there is an answer.
  let isAway = false;

  function away() {
    isAway = true;
    const waiting = read(localStorage, 'kept').length + read(sessionStorage, scans()).length;
    say(`The network is away. ${waiting === 0 ? 'What is sent now' : waiting === 1 ? 'What was sent' : `All that was sent, ${waiting} things,`} is kept here and sent once it is back.`);
  }

  async function sendKept() {
    const [mail, ...rest] = read(localStorage, 'kept');
    if (sending || !navigator.onLine) return;
    if (!mail) {
      if (isAway) say('The network is back.');
      isAway = false;
      return next();
    }
    sending = new AbortController();
    try {
      const response = await deliver(mail);
      isAway = false;
      write(localStorage, 'kept', rest);
      const form = all('form').find(one => one.getAttribute('action') === mail.to);
      if (mail.page === here() || response.status < 402 && !response.ok) await take(response, mail, form);
      else say(`The network is back. What was kept of ${mail.page} ${response.ok ? 'has been sent.' : 'was refused: do it again there.'}`, ['That page', mail.page]);
    } catch { sending = null; return away(); }
    sending = null;
    next();
  }

  addEventListener('online', sendKept);
  addEventListener('offline', away);
  setInterval(sendKept, RETRY_EVERY);

  // --- Scans: fast keys and Enter, wherever the focus is, go into the page's scan field and are sent one after the other.
  const scanField = () => one('[data-scan]');
  const isNew = field => !!field && field.value !== field.defaultValue; // not what the page came with
  let burst = '', began = 0, last = 0, before = '';
  let lost = ''; // keys that came before there was a field to take them
  let held = false; // something on the page must be looked at before the next scan goes

  addEventListener('keydown', event => {
    if (event.ctrlKey || event.altKey || event.metaKey || event.isComposing) return;
    const field = scanField(), at = document.activeElement, now = event.timeStamp, loading = document.readyState === 'loading';
    if (!field && !loading) return;
    if (event.key === 'Enter') {
      const fast = burst.length >= SCAN_LEAST && (last - began) / (burst.length - 1) < SCAN_GAP && now - last < SCAN_PAUSE;
      if (at === field && field?.hasAttribute('aria-activedescendant')) {
        // One of the likely answers was chosen: it goes there.
      } else if (at === field && field?.value.trim()) {
        // Not left to the form: its button is off while the scan before is under way.
        event.preventDefault();
        scanned(emptied(field));
      } else if (field && at !== field && fast) {
        event.preventDefault();
        if (isTyped(at)) at.value = before;
        scanned(burst);
      } else if (!field && lost) {
        scanned(lost);
        lost = '';
      } else if (at === field && held) {
        held = false;
        next();
      }
      burst = '';
    } else if (event.key.length === 1) {
      if (!burst || now - last > SCAN_PAUSE) [burst, began, before] = ['', now, at?.value ?? ''];
      burst += event.key;
      last = now;
      if (isTyped(at)) return;
      if (!field) lost += event.key;
      // Nobody types into a button: it is meant for the field. Space still presses.
      else if (event.key !== ' ') found(field);
    }
  }, true);

  // What the page came with gives way to what is typed or scanned next.
  function found(field) {
    if (lost) field.value = isNew(field) ? lost + field.value : lost;
    lost = '';
    field.focus();
    if (!isNew(field)) field.select();
  }

  function emptied(field) {
    const code = field.value;
    field.value = '';
    return code;
  }

  function scanned(code) {
    // Who scans with nothing else waiting has seen what the page shows.
    if (!sending && !read(sessionStorage, scans()).length) held = false;
    if (code.trim()) write(sessionStorage, scans(), [...read(sessionStorage, scans()), code.trim()]);
    next();
  }

  function next() {
    const waiting = read(sessionStorage, scans()), field = scanField();
    if (!waiting.length || sending || !field || read(localStorage, 'kept').length) return;
    if (held) return say(`Look at this first. Then go on with ${waiting.length === 1 ? waiting[0] : `${waiting.length} more scans`}.`,
      ['Go on', () => { held = false; next(); }], ['Forget', () => { write(sessionStorage, scans(), []); say(''); }]);
    write(sessionStorage, scans(), waiting.slice(1));
    send(field.form, null, waiting[0]);
  }

  // A scan that is half typed when the page is left goes on on the next one.
  addEventListener('pagehide', () => { if (burst && performance.now() - last < SCAN_PAUSE) write(sessionStorage, 'half', [burst, Date.now()]); });

  // A switch of this device: a low double tone for what must be looked at, a high one for the rest.
  function sound(alert) {
    if (read(localStorage, 'sound') !== true) return;
    const audio = sound.audio ??= new AudioContext();
    for (const start of alert ? [0, 0.25] : [0]) {
      const tone = new OscillatorNode(audio, { type: alert ? 'square' : 'sine', frequency: alert ? 220 : 880 });
      tone.connect(new GainNode(audio, { gain: 0.2 })).connect(audio.destination);
      tone.start(audio.currentTime + start);
      tone.stop(audio.currentTime + start + (alert ? 0.18 : 0.08));
    }
  }

  function switchForSound(field) {
    const isOn = () => read(localStorage, 'sound') === true;
    const button = Object.assign(document.createElement('button'), { type: 'button', className: 'plain', onclick: () => { write(localStorage, 'sound', !isOn()); tell(); sound(false); } });
    const tell = () => { button.textContent = isOn() ? 'Sound on' : 'Sound off'; button.setAttribute('aria-pressed', isOn()); };
    tell();
    field.closest('.line').append(button);
  }

  // Asks the server a moment after the last key; an answer that another key has overtaken is not shown.
  function asker(show) {
    let asked = new AbortController(), timer = 0;
    const quiet = () => { clearTimeout(timer); asked.abort(); };
    const ask = address => {
      quiet();
      timer = setTimeout(async () => {
        asked = new AbortController();
        try {
          const response = await fetch(address, { signal: asked.signal });
          show(response.ok && !response.redirected ? await response.text() : '');
        } catch { /* another letter came, or the network is away: typing goes on */ }
      }, AHEAD_AFTER);
    };
    return [ask, quiet];
  }

  // --- What a form would be answered (data-try asks), shown in its [data-tried] while somebody types in it.
  function tries(form) {
    const place = one('[data-tried]', form), [ask] = asker(html => { place.innerHTML = html; });
    form.addEventListener('input', () => {
      const typed = new URLSearchParams(new FormData(form));
      ['form', 'request'].forEach(own => typed.delete(own));
      ask(`${form.dataset.try}?${typed}`);
    });
  }

  // --- Likely answers while typing: a list made by the server, walked with the arrow keys. Enter without a choice asks as ever.
  function ahead(box) {
    const list = Object.assign(document.createElement('div'), { id: 'ahead', hidden: true });
    const [ask, quiet] = asker(html => { list.innerHTML = html; open(!!one('[role=option]', list)); });
    const set = (name, value) => value === null ? box.removeAttribute(name) : box.setAttribute(name, value);
    const open = any => { list.hidden = !any; set('aria-expanded', any); set('aria-activedescendant', null); };
    box.closest('.line').after(list);
    [['role', 'combobox'], ['aria-autocomplete', 'list'], ['aria-controls', 'ahead'], ['aria-expanded', false]].forEach(([name, value]) => set(name, value));
    box.addEventListener('input', () => ask(`${box.dataset.ahead}?q=${encodeURIComponent(box.value)}`));
    box.addEventListener('keydown', event => {
      const options = all('[role=option]', list), at = options.findIndex(option => option.ariaSelected === 'true');
      if (event.key === 'Enter') quiet();
      if (list.hidden) return;
      if (event.key === 'Escape' || event.key === 'Enter' && at < 0) open(false);
      if (event.key === 'Enter' && at >= 0) { event.preventDefault(); location.assign(options[at].dataset.go); }
      const step = { ArrowDown: 1, ArrowUp: at < 0 ? 0 : -1 }[event.key];
      if (step === undefined) return;
      event.preventDefault();
      const to = options[(at + step + options.length) % options.length];
      options.forEach(option => option.setAttribute('aria-selected', option === to));
      set('aria-activedescendant', to.id);
      to.scrollIntoView({ block: 'nearest' });
    });
    list.addEventListener('mousedown', event => { const option = event.target.closest('[role=option]'); if (option) location.assign(option.dataset.go); });
    box.addEventListener('blur', () => { quiet(); open(false); });
  }

  // --- What others change on the same thing (data-live asks, data-version is what is shown): shown at once while nothing is typed, else said.
  addEventListener('input', event => { const form = event.target.form; if (form && !isGet(form) && !event.target.matches('[data-scan]')) typed = true; });

  setInterval(async () => {
    const watched = one('[data-live]');
    if (!watched || document.hidden || sending) return;
    try {
      const response = await fetch(watched.dataset.live);
      if (!response.ok || response.redirected || (await response.text()).trim() === watched.dataset.version || !watched.isConnected || sending) return;
      if (typed) return say('Somebody else changed this meanwhile. What you typed is still here.', ['Show the change', reload]);
      await reload();
      say('Somebody else changed this; it is shown as it is now.');
    } catch { /* the network is away: that is said when something is sent */ }
  }, LIVE_EVERY);

  // --- Each time a page, or its work, is there.
  function ready() {
    const field = scanField();
    held = !!one('main [data-hold]');
    all('[data-ahead]').forEach(ahead);
    all('[data-try]').forEach(tries);
    if (field) {
      found(field);
      if (!field.dataset.ahead) switchForSound(field);
    }
    if (read(localStorage, 'kept').length) sendKept();
    else next();
  }

  const [half, at] = read(sessionStorage, 'half');
  sessionStorage.removeItem('half');
  if (half && Date.now() - at < 2000) lost = half;
  document.addEventListener('DOMContentLoaded', ready);
}
