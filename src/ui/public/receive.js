// Part of the service worker: a file or a link that another app shares with the installed one is a POST that no server
// sees. It is laid aside for the page that takes it in (`given/system.ts`).
self.addEventListener('fetch', (event) => {
  const { method, url } = event.request;
  if (method === 'POST' && new URL(url).pathname.endsWith('/share'))
    event.respondWith(receive(event.request));
});

async function receive(request) {
  const form = await request.formData();
  const file = form.get('file');
  await caches.delete('shared');
  const cache = await caches.open('shared');
  if (file instanceof File && file.size > 0)
    await cache.put(
      './shared-file',
      new Response(file, { headers: { 'X-Name': encodeURIComponent(file.name) } }),
    );
  else {
    const text = ['url', 'text', 'title'].map((name) => form.get(name) ?? '').join(' ');
    await cache.put('./shared-text', new Response(text));
  }
  return Response.redirect('./#/given', 303);
}
