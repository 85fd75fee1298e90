FROM node:26.10.0-trixie-slim AS build
WORKDIR /app
COPY package.json package-lock.json .npmrc ./
RUN npm ci
COPY tsconfig.json ./
COPY shared shared
COPY services services
COPY dashboards dashboards
RUN npm run build && npm prune --omit=dev --ignore-scripts

FROM node:26.10.0-trixie-slim
ENV NODE_ENV=production SEAMWARDEN_DATA_DIR=/data
WORKDIR /app
COPY --from=build /app/package.json ./
COPY --from=build /app/node_modules node_modules
COPY --from=build /app/dist dist
RUN mkdir /data && chown node:node /data
USER node
VOLUME /data
HEALTHCHECK --interval=15s --timeout=5s --start-period=30s --retries=3 \
  CMD ["node", "--eval", "const { SEAMWARDEN_HTTP_HOST: host = '127.0.0.1', SEAMWARDEN_HTTP_PORT: port = '8080' } = process.env; fetch(`http://${host.includes(':') ? `[${host}]` : host}:${port}/api/health`).then((answer) => process.exit(answer.ok ? 0 : 1), () => process.exit(1))"]
ENTRYPOINT ["node", "dist/services/seamwarden.js"]
CMD ["start"]
