// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/shut/network_page.h"

#include "app/dialogs/big_button.h"
#include "app/dialogs/button_list.h"
#include "app/dialogs/plain_label.h"
#include "app/dialogs/remember_splitter.h"
#include "app/dialogs/truck_look.h"
#include "app/map/map_widget.h"
#include "app/models/data_table.h"
#include "app/shut/fix_panel.h"
#include "app/shut/network_decisions.h"
#include "app/shut/note_model.h"

#include <QHBoxLayout>
#include <QSplitter>
#include <QTableView>
#include <QVBoxLayout>

#include <map>

namespace keyround {

NetworkPage::NetworkPage(Session &session, QWidget *parent)
    : FreshPage(parent), m_session(session), m_sentence(truckLabel(this)),
      m_tolerances(plainLabel({}, QStringLiteral("quiet"), this)),
      m_back(new BigButton(BigButton::Kind::Plain, tr("Back to the break"), this)),
      m_kinds(new ButtonList(this)), m_model(new NoteModel(session, this)),
      m_table(new DataTable(QStringLiteral("network-notes"), this)),
      m_fixes(new FixPanel(session, this)), m_map(new MapWidget(session, this))
{
    setObjectName(QStringLiteral("network"));
    m_sentence->setObjectName(QStringLiteral("network-sentence"));
    m_back->setObjectName(QStringLiteral("network-back"));
    m_map->setObjectName(QStringLiteral("network-map"));
    m_map->setPicksPlaces(true);
    m_table->setObjectName(QStringLiteral("network-table"));
    m_table->setModel(m_model);
    m_table->setDefaultWidths({110, 70, 100, 600});
    m_table->setEmptyText(tr("Nothing to tell: everything that was brought in found its place."));

    auto *middle = new QSplitter(Qt::Vertical, this);
    middle->addWidget(m_table);
    middle->addWidget(m_fixes);
    middle->setChildrenCollapsible(false);
    middle->setSizes({300, 240});
    rememberSplitter(middle, QStringLiteral("network-middle"));
    auto *splitter = new QSplitter(Qt::Horizontal, this);
    splitter->addWidget(m_kinds);
    splitter->addWidget(middle);
    splitter->addWidget(m_map);
    splitter->setChildrenCollapsible(false);
    splitter->setSizes({300, 600, 440});
    rememberSplitter(splitter, QStringLiteral("network-split"));

    const int gap = TruckScale::of(this).gap;
    auto *head = new QHBoxLayout;
    head->setSpacing(gap);
    head->addWidget(m_sentence, 4);
    head->addWidget(m_back, 1);
    auto *layout = new QVBoxLayout(this);
    layout->setContentsMargins(gap, gap, gap, gap);
    layout->addLayout(head);
    layout->addWidget(splitter, 1);
    layout->addWidget(m_tolerances);
    listen();
}

void NetworkPage::listen()
{
    connect(m_back, &QAbstractButton::clicked, this, &NetworkPage::backAsked);
    connect(m_table, &DataTable::selectionChanged, this, &NetworkPage::showNote);
    connect(m_map, &MapWidget::placeClicked, m_fixes, &FixPanel::placeClicked);
    follow(m_session.notifier(),
           {&Notifier::projectChanged, &Notifier::valvesChanged, &Notifier::layersChanged,
            &Notifier::networkFixesChanged, &Notifier::settingsChanged});
}

QString NetworkPage::summary()
{
    const BuiltNetwork &built = m_session.network();
    if (m_session.mains().empty()) {
        return tr("How the mains were read: there are none yet. Bring them in (Project, Bring in a "
                  "file).");
    }
    return tr("How the mains were read. In the network: mains %1, valves %2, sources %3. Found: "
              "faults "
              "%4, doubts %5, only said %6.")
        .arg(built.network.mains.size())
        .arg(built.network.valves.size())
        .arg(built.network.sources.size())
        .arg(built.report.count(NoteWeight::Fault))
        .arg(built.report.count(NoteWeight::Doubt))
        .arg(built.report.count(NoteWeight::Said));
}

void NetworkPage::reload()
{
    m_sentence->setText(summary());
    NetworkOptions options;
    options.units = m_session.units();
    m_tolerances->setText(toleranceWords(options));
    const bool decisions = m_fixes->showsDecisions();
    const auto kind = m_model->kind();
    fillKinds();
    // The kind may have run out by the last decision.
    chooseKind(kind && m_session.network().report.count(*kind) == 0 ? std::nullopt : kind);
    if (decisions) {
        m_fixes->showDecisions();
    }
}

void NetworkPage::fillKinds()
{
    m_kinds->clear();
    const auto add = [this](const char *name, const QString &words, const QString &hint, auto act) {
        BigButton *row = m_kinds->addRow(words, hint);
        row->setObjectName(QLatin1String(name));
        connect(row, &QAbstractButton::clicked, this, act);
    };
    const NetworkReport &report = m_session.network().report;
    add("kind-all", tr("All notes (%1)").arg(report.notes.size()), {},
        [this] { chooseKind(std::nullopt); });
    std::vector<NetworkNoteKind> order;
    std::map<NetworkNoteKind, NoteWeight> weights;
    for (const NetworkNote &note : report.notes) { // faults first
        if (weights.emplace(note.kind, note.weight).second) {
            order.push_back(note.kind);
        }
    }
    for (const NetworkNoteKind kind : order) {
        add(qPrintable(QStringLiteral("kind-") + keyFor(kind)),
            tr("%1 (%2)").arg(headingFor(kind)).arg(report.count(kind)), wordFor(weights.at(kind)),
            [this, kind] { chooseKind(kind); });
    }
    add("place-source", tr("Place a source…"), {}, [this] {
        m_table->view()->clearSelection();
        m_fixes->showSourceForm();
    });
    add("decisions", tr("Decided by hand (%1)").arg(decisionsOf(m_session.networkFixes()).size()),
        {}, [this] {
            m_table->view()->clearSelection();
            m_fixes->showDecisions();
        });
}

void NetworkPage::chooseKind(std::optional<NetworkNoteKind> kind)
{
    m_model->load(kind);
    m_fixes->showNothing(m_model->rowCount() == 0
                             ? QString()
                             : tr("Choose a note: it is shown on the map, with what can be decided "
                                  "about it."));
    showSources(nullptr);
}

void NetworkPage::showSources(const NetworkNote *note)
{
    MapShut picture;
    for (const Source &source : m_session.sources()) {
        picture.flags.push_back({source.place, source.name.isEmpty() ? source.number : source.name,
                                 MapShut::Flag::Kind::Source});
    }
    if (note != nullptr && note->place.isValid()) {
        picture.flags.push_back({note->place, note->number, MapShut::Flag::Kind::Here});
    }
    m_map->setShut(picture);
}

void NetworkPage::showNote()
{
    const QList<int> rows = m_table->selectedRows();
    if (rows.isEmpty()) {
        return;
    }
    const NetworkNote note = m_model->noteAt(rows.front());
    m_fixes->showNote(note);
    showSources(&note);
    if (note.place.isValid()) {
        m_map->showPlace(note.place);
    }
}

void NetworkPage::focusField()
{
    m_kinds->focusRow(0);
}

} // namespace keyround
