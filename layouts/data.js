guide.keep({{ view.name | safe }}, {{ view.value | safe }});
