// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/shut/fix_panel.h"

#include "app/commands/push_command.h"
#include "app/commands/shut_commands.h"
#include "app/dialogs/big_button.h"
#include "app/dialogs/calm_combo_box.h"
#include "app/dialogs/plain_label.h"
#include "app/dialogs/restyle.h"
#include "app/dialogs/truck_look.h"
#include "app/shut/network_decisions.h"

#include <QFormLayout>
#include <QHBoxLayout>
#include <QLineEdit>
#include <QVBoxLayout>

namespace keyround {

FixPanel::FixPanel(Session &session, QWidget *parent)
    : QScrollArea(parent), m_session(session), m_inner(new QWidget),
      m_layout(new QVBoxLayout(m_inner)), m_words(plainLabel({}, {}, m_inner)),
      m_refusal(plainLabel({}, QStringLiteral("refusal"), m_inner)),
      m_mainForm(new QWidget(m_inner)), m_main(new QLineEdit(m_mainForm)),
      m_sourceForm(new QWidget(m_inner)), m_kind(new CalmComboBox(m_sourceForm)),
      m_number(new QLineEdit(m_sourceForm)), m_name(new QLineEdit(m_sourceForm))
{
    setWidget(m_inner);
    setWidgetResizable(true);
    setFrameShape(QFrame::NoFrame);
    setFocusPolicy(Qt::NoFocus);
    setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    m_words->setObjectName(QStringLiteral("fix-words"));
    m_refusal->setObjectName(QStringLiteral("fix-refusal"));
    m_main->setObjectName(QStringLiteral("fix-main"));
    m_main->setAccessibleName(tr("Number of the main"));
    m_main->setPlaceholderText(tr("Main's number, or click it on the map"));
    m_main->setStyleSheet(
        QStringLiteral("QLineEdit { min-height: %1px; }").arg(TruckScale::of(this).target - 8));
    auto *put = new BigButton(BigButton::Kind::Plain, tr("Put it on this main"), m_mainForm);
    put->setObjectName(QStringLiteral("fix-put"));
    auto *mainRow = new QHBoxLayout(m_mainForm);
    mainRow->setContentsMargins(0, 0, 0, 0);
    mainRow->addWidget(m_main, 3);
    mainRow->addWidget(put, 2);
    connect(put, &QAbstractButton::clicked, this, &FixPanel::takeMain);
    connect(m_main, &QLineEdit::returnPressed, this, &FixPanel::takeMain);
    buildSourceForm();
    m_layout->setContentsMargins(0, 0, TruckScale::of(this).gap, 0);
    m_layout->addWidget(m_words);
    m_layout->addWidget(m_refusal);
    m_layout->addWidget(m_mainForm);
    m_layout->addWidget(m_sourceForm);
    m_layout->addStretch(1);
    clear(Mode::Nothing, {});
}

void FixPanel::buildSourceForm()
{
    for (const SourceKind kind :
         {SourceKind::Plant, SourceKind::Tank, SourceKind::Well, SourceKind::Interconnection}) {
        m_kind->addItem(wordFor(kind), static_cast<int>(kind));
    }
    m_kind->setObjectName(QStringLiteral("source-kind"));
    m_number->setObjectName(QStringLiteral("source-number"));
    m_name->setObjectName(QStringLiteral("source-name"));
    m_kind->setAccessibleName(tr("Kind of source"));
    m_number->setAccessibleName(tr("Number of the source"));
    m_name->setAccessibleName(tr("Name of the source"));
    m_name->setPlaceholderText(tr("may be left empty"));
    auto *form = new QFormLayout(m_sourceForm);
    form->setContentsMargins(0, 0, 0, 0);
    form->addRow(plainCaption(tr("Kind")), m_kind);
    form->addRow(plainCaption(tr("Number")), m_number);
    form->addRow(plainCaption(tr("Name")), m_name);
    for (QWidget *field : std::initializer_list<QWidget *>{m_kind, m_number, m_name}) {
        field->setStyleSheet(QStringLiteral("QLineEdit, QComboBox { min-height: %1px; }")
                                 .arg(TruckScale::of(this).target - 8));
    }
}

void FixPanel::clear(Mode mode, const QString &words)
{
    m_mode = mode;
    for (BigButton *button : m_buttons) {
        button->hide();
        button->setParent(nullptr);
        button->deleteLater(); // it may be the one that is being pressed
    }
    m_buttons.clear();
    m_words->setText(words);
    m_words->setVisible(!words.isEmpty());
    refuse({});
    m_mainForm->setVisible(false);
    m_sourceForm->setVisible(mode == Mode::Source);
}

BigButton *FixPanel::addButton(const QString &name, const QString &words)
{
    auto *button = new BigButton(BigButton::Kind::Row, words, m_inner);
    button->setObjectName(name);
    // Above the forms: a choice at the press of a button comes first.
    m_layout->insertWidget(m_layout->indexOf(m_mainForm), button);
    button->show();
    m_buttons << button;
    return button;
}

void FixPanel::refuse(const QString &message)
{
    m_refusal->setText(message);
    m_refusal->setVisible(!message.isEmpty());
    restyle(m_main, "refused", m_mode == Mode::Note && !message.isEmpty());
    restyle(m_number, "refused", m_mode == Mode::Source && !message.isEmpty());
}

void FixPanel::showNothing(const QString &words)
{
    clear(Mode::Nothing, words);
}

void FixPanel::showNote(const NetworkNote &note)
{
    m_note = note;
    clear(Mode::Note, note.message);
    int count = 0;
    for (const PossibleFix &fix : possibleFixes(m_session, note)) {
        BigButton *button = addButton(QStringLiteral("fix-%1").arg(++count), fix.words);
        if (fix.isTaken) {
            button->setHint(tr("taken for the time being; press to decide it"));
        }
        connect(button, &QAbstractButton::clicked, this,
                [this, after = fix.after, words = fix.words] { decide(after, words); });
    }
    m_main->clear();
    m_mainForm->setVisible(takesMain(note.kind));
    const bool needsSource =
        note.kind == NetworkNoteKind::NoSource || note.kind == NetworkNoteKind::PieceWithoutSource;
    if (needsSource) {
        BigButton *button = addButton(QStringLiteral("fix-source"), tr("Place a source"));
        connect(button, &QAbstractButton::clicked, this, &FixPanel::showSourceForm);
    }
}

void FixPanel::showSourceForm()
{
    clear(Mode::Source, tr("Say what it is, then click its place on the map (by keyboard: Tab to "
                           "the map, move the cross with the arrows, Enter)."));
    m_number->setFocus();
}

void FixPanel::showDecisions()
{
    const std::vector<Decision> decisions = decisionsOf(m_session.networkFixes());
    clear(Mode::Decisions,
          decisions.empty()
              ? tr("Nothing has been decided by hand. What is decided here is kept when the layers "
                   "are brought in again.")
              : tr("Decided by hand, and kept when the layers are brought in again. Press one to "
                   "take it back."));
    int count = 0;
    for (const Decision &decision : decisions) {
        BigButton *button = addButton(QStringLiteral("decision-%1").arg(++count), decision.words);
        button->setHint(tr("take it back"));
        connect(button, &QAbstractButton::clicked, this,
                [this, without = decision.without, words = decision.words] {
                    decide(without, tr("Take back: %1").arg(words));
                });
    }
}

void FixPanel::decide(const NetworkFixes &after, const QString &text)
{
    const Status done =
        pushCommand(m_session, std::make_unique<ChangeNetworkFixes>(m_session, after, text));
    if (!done) {
        refuse(done.error().message);
    }
}

void FixPanel::takeMain()
{
    const QString main = m_main->text().trimmed();
    const auto after = putOnMain(m_session, m_note, main);
    if (!after) {
        refuse(after.error().message);
        return;
    }
    decide(*after, tr("Put %1 on main %2").arg(m_note.number, main));
}

void FixPanel::placeClicked(const GeoPoint &place)
{
    if (m_mode == Mode::Source) {
        placeSource(place);
    } else if (m_mode == Mode::Note && takesMain(m_note.kind)) {
        constexpr Metres reach{30};
        const QString main = mainNear(m_session.network().network, place, reach);
        m_main->setText(main);
        refuse(main.isEmpty() ? tr("There is no main near that place. Click nearer to one.")
                              : QString());
    }
}

void FixPanel::placeSource(const GeoPoint &place)
{
    Source source;
    source.number = m_number->text().trimmed();
    if (source.number.isEmpty()) {
        refuse(tr("Type a number for the source first, such as T-1; then click its place."));
        m_number->setFocus();
        return;
    }
    source.id = FeatureId{newUuid7(m_session.now().utcMilliseconds)};
    source.name = m_name->text().trimmed();
    source.kind = static_cast<SourceKind>(m_kind->currentData().toInt());
    source.place = place;
    const Status placed = pushCommand(m_session, std::make_unique<PlaceSource>(m_session, source));
    if (!placed) {
        refuse(placed.error().message);
        return;
    }
    m_number->clear();
    m_name->clear();
    clear(Mode::Nothing,
          tr("Source %1 is placed. It can be undone (Edit, Undo).").arg(source.number));
}

} // namespace keyround
