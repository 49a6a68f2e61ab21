// Removes the service worker and its caches. Touches no IndexedDB: edits that were never sent live there.
const outcome = document.getElementById("outcome");

async function reset() {
  const registrations = "serviceWorker" in navigator ? await navigator.serviceWorker.getRegistrations() : [];
  await Promise.all(registrations.map((registration) => registration.unregister()));
  const names = "caches" in window ? await caches.keys() : [];
  await Promise.all(names.map((name) => caches.delete(name)));
  outcome.textContent = `Removed ${registrations.length} worker and ${names.length} caches. Open the app again.`;
}

document.getElementById("reset").addEventListener("click", () => {
  reset().catch((error) => {
    outcome.textContent = `That did not work: ${error}. Close all tabs of the app and try again.`;
  });
});
