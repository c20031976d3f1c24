FROM python:3.11-slim-bookworm

ENV PYTHONUNBUFFERED=1 \
    PYTHONDONTWRITEBYTECODE=1 \
    WHARFWRIGHT_NO_BOOTSTRAP=1 \
    WHARFWRIGHT_DATA=/data \
    WHARFWRIGHT_STATIC_ROOT=/app/staticfiles

RUN apt-get update \
    && apt-get install -y --no-install-recommends \
        libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0 fonts-dejavu-core \
    && rm -rf /var/lib/apt/lists/*

WORKDIR /app
COPY requirements.lock .
RUN pip install --no-cache-dir -r requirements.lock

COPY . .
# The data folder of the build, with the key that collectstatic has no use for, must not stay in the image.
RUN WHARFWRIGHT_DATA=/tmp/build python manage.py collectstatic --no-input --verbosity 0 \
    && rm -rf /tmp/build \
    && useradd --system --create-home --shell /usr/sbin/nologin wharfwright \
    && install -d -o wharfwright -g wharfwright /data

USER wharfwright
VOLUME /data
EXPOSE 8000
HEALTHCHECK --interval=30s --timeout=5s --start-period=60s \
    CMD ["python", "-c", "import socket; socket.create_connection(('127.0.0.1', 8000), 3).close()"]

CMD ["sh", "-ec", "python manage.py check --deploy; python manage.py migrate --no-input; exec gunicorn contractor.wsgi --bind 0.0.0.0:8000 --workers ${WEB_CONCURRENCY:-2} --threads 4 --timeout 60 --worker-tmp-dir /dev/shm --access-logfile -"]
