// The addresses that are the app's own. Everything else on this origin is the server's, and the worker lets it pass.
const APP_ROUTES = ["/", "/join"];

export const isAppRoute = (path: string): boolean => APP_ROUTES.includes(path);
